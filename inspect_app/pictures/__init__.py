"""Drawings: plain data in, one SVG text out, the same for screen and paper."""
