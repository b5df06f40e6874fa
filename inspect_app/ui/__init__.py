"""The screens: one file per page, drawn from the Answer alone, behind one gate."""
