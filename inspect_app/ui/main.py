"""The script Streamlit runs for every page: the navigation, and the style of the theme in use."""

import streamlit as st

from inspect_app.ui import fit_check, rack, shelf, theme, verdict

st.set_page_config(page_title="Inspect", layout="wide")
st.html(theme.style(st.context.theme.type))
page = st.navigation(
    [
        st.Page(rack.page, title="Rack", url_path="rack", default=True),
        st.Page(verdict.page, title="Verdict", url_path="verdict"),
        st.Page(fit_check.page, title="Fit check", url_path="fits"),
    ],
    position="top",
)
try:
    page.run()
except Exception as error:
    # Left to Streamlit, a fault of ours would be a traceback in front of the person at the bench.
    shelf.log_fault("page", error)
    st.text("This page could not be drawn. The window the program runs in says why: report that line.")
