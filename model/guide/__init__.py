"""Questions that owners of a well and its treatment ask, answered from the home's own numbers."""
