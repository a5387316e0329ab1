"""The published relations of the equipment: one pure function each, with units, range and source."""
