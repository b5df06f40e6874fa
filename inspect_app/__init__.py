"""Judge the parts of a used engine: evidence closes ways, money chooses among the ways left."""

__version__ = "0.1.0"
