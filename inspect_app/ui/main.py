"""The script Streamlit runs for every page: the navigation, and the style of the theme in use."""

import streamlit as st

from inspect_app.ui import (
    bench,
    fit_check,
    go,
    help,
    new_core,
    papers,
    part,
    phones,
    rack,
    record,
    sheet,
    shelf,
    shop_book,
    shop_page,
    theme,
    verdict,
)

st.set_page_config(page_title="Inspect", layout="wide")
st.html(theme.style(st.context.theme.type))
pages = [
    st.Page(rack.page, title="Rack", url_path="rack", default=True),
    st.Page(part.page, title="Part", url_path="part"),
    st.Page(bench.page, title="Bench", url_path="bench"),
    st.Page(verdict.page, title="Verdict", url_path="verdict"),
    st.Page(fit_check.page, title="Fit check", url_path="fits"),
    st.Page(papers.page, title="Papers", url_path="papers"),
    st.Page(shop_book.page, title="Shop book", url_path="shop"),
    st.Page(help.page, title="Help", url_path="help"),
]
of_the_shop_book = [
    st.Page(sheet.page, title="Engine sheet", url_path="sheet"),
    st.Page(shop_page.prices, title="Prices", url_path="prices"),
    st.Page(shop_page.gauges, title="Gauges", url_path="gauges"),
    st.Page(phones.page, title="Phones", url_path="phones"),
]
of_the_rack = [
    st.Page(new_core.page, title="Begin a core", url_path="new"),
    st.Page(record.page, title="Record", url_path="record"),
]
go.know([*pages, *of_the_rack])
page = st.navigation([*pages, *of_the_rack, *of_the_shop_book], position="hidden")
# Streamlit's own bar folds away behind an arrow on a phone; these links stay in sight.
with st.container(horizontal=True, key="pages"):
    for one in pages:
        st.page_link(one)
try:
    page.run()
except Exception as error:
    # Left to Streamlit, a fault of ours would be a traceback in front of the person at the bench.
    shelf.log_fault("page", error)
    st.text("This page could not be drawn. The window the program runs in says why: report that line.")
