"""Evidence on one piece, run through the rules: ways closed, open or proven, with reasons. Knows no money."""
