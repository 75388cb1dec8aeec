"""Labels held before the camera of the computer."""
