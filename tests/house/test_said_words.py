"""No sentence of ours reaches a screen past ``dashboard/language/tongue.py``, so that none stays English by mistake."""

import ast
import re
from pathlib import Path

import pytest

DASHBOARD = Path(__file__).parents[2] / "dashboard"
SHOWS = frozenset(
    {"title", "header", "subheader", "markdown", "caption", "text", "write", "info", "warning", "error", "success"}
    | {"toast", "button", "download_button", "link_button", "page_link", "expander", "popover", "tabs", "selectbox"}
    | {"multiselect", "radio", "pills", "segmented_control", "toggle", "checkbox", "number_input", "slider"}
    | {"select_slider", "text_input", "text_area", "date_input", "time_input", "file_uploader", "metric", "Page"}
)
"""What of Streamlit shows its first argument."""
DRAWS = frozenset({"table", "altair_chart", "image"})
SAYS = {"label", "help", "placeholder", "alt", "title", "body", "text"}
"""Arguments that are shown."""
NO_SENTENCE = re.compile(r"screens/\w+\.py|[\w-]+\.(csv|png|svg|toml|json)|:material/\w+:|[\w ]+/[\w.+-]+|04XF-600N")


def unsaid(tree):
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Attribute):
            continue
        name = call.func.attr
        shown = call.args[:1] if name in SHOWS else []
        if name in SHOWS | DRAWS:
            shown += [keyword.value for keyword in call.keywords if keyword.arg in SAYS]
        yield from ((call.lineno, ast.unparse(part)) for part in shown if has_words(part))


def has_words(part):
    if isinstance(part, ast.Constant):
        return isinstance(part.value, str) and is_sentence(part.value)
    if isinstance(part, ast.JoinedStr):
        return any(isinstance(one, ast.Constant) and is_sentence(one.value) for one in part.values)
    if isinstance(part, ast.IfExp):
        return has_words(part.body) or has_words(part.orelse)
    if isinstance(part, ast.BinOp):
        return has_words(part.left) or has_words(part.right)
    return isinstance(part, ast.List) and any(map(has_words, part.elts))


def is_sentence(text):
    has_letters = re.search(r"[A-Za-z]{2}", re.sub(r"&\w+;|<[^>]*>", "", text)) is not None
    return has_letters and not NO_SENTENCE.fullmatch(text)


@pytest.mark.parametrize(
    "file", sorted(DASHBOARD.rglob("*.py")), ids=lambda file: file.relative_to(DASHBOARD).as_posix()
)
def test_every_sentence_is_said_through_the_tongue(file):
    found = list(unsaid(ast.parse(file.read_text(encoding="utf-8"))))
    assert not found, f"{file.name}: say these by _(…), see 'A sentence' in DEVELOPERS.md: {found}"


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ('st.header("What grows")', True),
        ('st.header(_("What grows"))', False),
        ('st.markdown(f"**{title}** grew")', True),
        ('st.markdown(f"**{title}**: {said}")', False),
        ('place.table(frame, alt="The beds")', True),
        ('st.button(_("Go") if ready else "Wait")', True),
        ('st.page_link("screens/guess.py", label=_("Next"))', False),
    ],
)
def test_what_is_said_past_it_is_found(line, found):
    assert bool(list(unsaid(ast.parse(line)))) == found
