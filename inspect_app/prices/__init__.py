"""What things cost: the price book, needs, and the lines of a bill."""
