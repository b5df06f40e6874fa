"""The vocabulary of the program: cores, pieces, evidence, engine sheets, units and the answer."""
