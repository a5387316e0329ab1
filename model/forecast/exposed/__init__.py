"""The lines on what the house is exposed to, by what they come from. None of them says that anything is safe."""
