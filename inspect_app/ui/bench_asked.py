"""What is asked once for a group: which group, the gauge and its setting, conditions, state, order."""

from collections.abc import Mapping, Sequence
from urllib.parse import quote, urlencode

import streamlit as st

from inspect_app.rulebook.book import Rulebook
from inspect_app.ui import bench_layout, bench_setup, blocks, words
from inspect_app.ui.bench_groups import Group, Standing, kind_of, sources
from inspect_app.ui.bench_layout import ORDERS, Order
from inspect_app.ui.bench_setup import Setup
from inspect_app.ui.markup import lines, tag
from inspect_app.ui.shelf import Slot

NO_GAUGE = "No gauge named"
LONGEST_TYPED = 120


def group(book: Rulebook, found: list[Standing]) -> Group:
    """Draw the box of groups and return the one chosen: the address names it, else the first waited for."""
    by_key = {one.group.key: one for one in found}
    asked = st.query_params.get("group", "")
    if asked not in by_key:
        asked = named(book, found, st.query_params.to_dict()).key
    # A name that changed with every reading would no longer be found among the options.
    chosen = st.selectbox(
        "What is read",
        list(by_key),
        index=list(by_key).index(asked),
        format_func=lambda key: by_key[key].group.title,
        key="bench_group",
        on_change=_follow,
    )
    return by_key[chosen].group


def named(book: Rulebook, found: Sequence[Standing], asked: Mapping[str, str]) -> Group:
    """The group that an address asks for by `part` (a position), `name` (a quantity) and `place`.

    A quantity that is computed leads to what it is computed from. As much as is told must fit; where nothing
    does, the first that is waited for.
    """
    part, place = asked.get("part", "").partition(" ")[0], asked.get("place", "")
    of_part = [one.group for one in found if one.group.part == part]
    at = [one for one in of_part if place and one.kind == kind_of(place)]
    read = [one for one in at if one.form.id in sources(book, asked.get("name", ""), one.kind)]
    return next(iter([*read, *at, *of_part]), found[0].group)


def start(group: Group) -> str:
    """The box to begin with, where the address names a place of the group; else ""."""
    part, place = st.query_params.get("part", ""), st.query_params.get("place", "").partition("/")[0]
    here = [box for box in group.boxes if box.position == part] or list(group.boxes)
    return next((box.key for box in here if place and box.place == place), "")


def overview(core_id: str, found: list[Standing], group: Group) -> None:
    """Say how much of the group is read, and behind a line the same of every group, with a link to it."""
    here = next(one for one in found if one.group == group)
    waits = sum(bool(one.waits) for one in found)
    items = (
        tag(
            "li", tag("a", one.group.title, href=link(core_id, one.group.key)), f", {one.told}, {_waits(one)}"
        )
        for one in found
    )
    title = f"All {len(found)} groups of readings" + (f", {waits} waited for" if waits else "")
    listed = tag("details", tag("summary", title), tag("ul", *items), cls="ia-more")
    told = tag("p", tag("strong", here.told), f", {_waits(here)}")
    blocks.show(tag("div", told, listed, cls="ia-page"))


def _waits(one: Standing) -> str:
    return "the answer waits for it" if one.waits else "nothing waits for it"


def link(core_id: str, key: str) -> str:
    """The address of the Bench with this group."""
    return f"/bench?{urlencode({'core': core_id, 'group': key}, quote_via=quote)}"


def _follow() -> None:
    st.query_params["group"] = st.session_state["bench_group"]


def order(group: Group) -> Order:
    """Draw the choice of the order of the hand, where there is one."""
    if not bench_layout.has_orders(group):
        return "place"
    chosen = st.segmented_control(
        "Order",
        list(ORDERS),
        format_func=lambda one: ORDERS[one],
        default="place",
        key="bench_order",
        label_visibility="collapsed",
    )
    return chosen or "place"


def setup(slot: Slot, group: Group) -> Setup:
    """Draw what is asked once and return it; what it comes to, and what is wrong with it, stands below."""
    usual = bench_setup.usual(slot, group)
    key = f"bench|{slot.id}|{group.key}"
    begun = bench_setup.held_last(slot, group) is not None
    with st.expander("How it is read: gauge, set to, state", expanded=not begun, key=f"{key}|asked"):
        chosen = _asked(slot, group, usual, key)
    _told(slot, group, chosen)
    return chosen


def _asked(slot: Slot, group: Group, usual: Setup, key: str) -> Setup:
    with st.container(horizontal=True):
        gauge = _gauge(slot, group, usual, key)
        units = list(bench_setup.units(group, usual.unit))
        unit = st.selectbox("Unit", units, _at(units, usual.unit), key=f"{key}|unit", width=100)
        setting = st.text_input(
            f"Set to, {_plain_label(unit)}",
            _bare(usual.setting, unit),
            key=f"{key}|setting|{unit}",
            width=140,
            max_chars=LONGEST_TYPED,
            autocomplete="off",
        )
        state = _state(slot, group, usual, key)
    conditions = _conditions(slot, group, usual, key)
    again, session, warm = _more(usual, key)
    return Setup(
        gauge=gauge,
        setting=bench_setup.setting_of(_short(setting), unit),
        unit=unit,
        session=_short(session),
        conditions=conditions,
        state=state,
        part_temperature=_short(warm[0]),
        gauge_temperature=_short(warm[1]),
        again=again,
    )


def _short(text: str) -> str:
    """A text that fits into a setup, so that one that is too long is refused in words and not by its form."""
    return text.strip()[:LONGEST_TYPED]


def _state(slot: Slot, group: Group, usual: Setup, key: str) -> str:
    states = bench_setup.states(slot, group)
    return st.selectbox(
        "State",
        list(states),
        _at(list(states), usual.state),
        format_func=lambda one: states[one],
        key=f"{key}|state",
        width=180,
    )


def _bare(setting: str, unit: str) -> str:
    """A setting without its unit, where that is the one shown in the label."""
    return setting.removesuffix(f" {unit}")


def _at(options: list[str], wanted: str) -> int:
    return options.index(wanted) if wanted in options else 0


def _gauge(slot: Slot, group: Group, usual: Setup, key: str) -> str | None:
    assert slot.engine is not None
    known = slot.engine.book.gauges
    options = ["", *bench_setup.gauges(slot.engine, group)]
    chosen = st.selectbox(
        "Gauge",
        options,
        _at(options, usual.gauge or ""),
        format_func=lambda one: known[one].title if one else NO_GAUGE,
        key=f"{key}|gauge",
        width=320,
    )
    return chosen or None


def _conditions(slot: Slot, group: Group, usual: Setup, key: str) -> tuple[str, ...]:
    assert slot.engine is not None
    asked = bench_setup.conditions(slot.engine, group)
    if not asked:
        return usual.conditions
    with st.container(horizontal=True, key="bench_conditions"):
        ticked = [
            name
            for name in asked
            if st.checkbox(
                _plain_label(slot.engine.book.conditions[name].title),
                name in usual.conditions,
                key=f"{key}|condition|{name}",
            )
        ]
    return tuple(ticked)


def _plain_label(text: str) -> str:
    """A label that is not read as Markdown."""
    return "".join(f"\\{letter}" if letter in "\\`*_{}[]()#+-.!:|~$<>" else letter for letter in text)


def _more(usual: Setup, key: str) -> tuple[bool, str, tuple[str, str]]:
    again = st.checkbox("Read again: second readings beside those that stand", key=f"{key}|again")
    name = f"{usual.session}, again" if again else usual.session
    with st.container(horizontal=True):
        session = st.text_input(
            "Session", name, key=f"{key}|session|{again}", width=240, max_chars=LONGEST_TYPED
        )
        part = st.text_input(
            "Part, if not 20 C",
            key=f"{key}|part warm",
            placeholder="31 C or 88 F",
            width=160,
            max_chars=LONGEST_TYPED,
        )
        gauge = st.text_input(
            "Gauge, if not as the part", key=f"{key}|gauge warm", width=180, max_chars=LONGEST_TYPED
        )
    return again, session, (part, gauge)


def _told(slot: Slot, group: Group, chosen: Setup) -> None:
    wrong = bench_setup.problems(chosen, group)
    lacks = bench_setup.lacking(slot, group, chosen)
    if wrong:
        blocks.show(tag("div", lines(*wrong), cls="ia-refused", role="status"))
    blocks.show(
        tag(
            "div",
            lines(_summary(slot, chosen), *lacks),
            lines(_hint(chosen), cls="ia-soft"),
            cls="ia-page",
        )
    )


def _summary(slot: Slot, chosen: Setup) -> str:
    """The setup in one line, for when what is asked is folded away."""
    assert slot.engine is not None
    known = slot.engine.book
    gauge = known.gauges[chosen.gauge].title if chosen.gauge else NO_GAUGE.lower()
    said = [gauge, f"set to {chosen.setting}" if chosen.setting else f"full sizes, {chosen.unit}"]
    said += [chosen.state.replace("_", " "), *(known.conditions[name].title for name in chosen.conditions)]
    said += [f"session {chosen.session}"] if chosen.session else []
    said += [f"part at {chosen.part_temperature}"] if chosen.part_temperature else []
    said += [f"gauge at {chosen.gauge_temperature}"] if chosen.gauge_temperature else []
    return words.sentence(", ".join(said))


def _hint(chosen: Setup) -> str:
    keys = "Enter goes on, Shift and Enter goes back."
    if chosen.setting:
        return f"{keys} Type divisions from the setting (+8, -2.5) or the full size."
    return f"{keys} Type full sizes; with a setting size, also divisions from it (+8, -2.5)."
