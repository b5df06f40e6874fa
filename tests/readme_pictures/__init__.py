"""The pictures of the README, taken from the running program over the demo cores."""
