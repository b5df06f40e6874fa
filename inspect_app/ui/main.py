"""The script Streamlit runs for every page: the navigation, and the style of the theme in use."""

import streamlit as st

from inspect_app.ui import rack, theme, verdict

st.set_page_config(page_title="Inspect", layout="wide")
st.html(theme.style(st.context.theme.type))
st.navigation(
    [
        st.Page(rack.page, title="Rack", url_path="rack", default=True),
        st.Page(verdict.page, title="Verdict", url_path="verdict"),
    ],
    position="top",
).run()
