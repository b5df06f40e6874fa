"""From readings to figures with uncertainty, and from figures to limits. Lengths in millimetres."""
