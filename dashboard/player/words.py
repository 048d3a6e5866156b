"""Every sentence that the map in the browser can say; none stands in its JavaScript."""

from __future__ import annotations

from dashboard.language.tongue import _
from dashboard.player.events import MARK_WORDS


def words_for_the_map() -> dict[str, object]:
    """Return the words by the names that the JavaScript knows them by."""
    return {
        "play": _("Play"),
        "pause": _("Pause"),
        "goOn": _("Go on"),
        "back": _("One day back"),
        "forth": _("One day on"),
        "start": _("Back to the start"),
        "day": _("Day of the season"),
        "leftOut": _("{plan}: no room on the line for {marks}."),
        "leftOutMark": _("{mark} ({count})"),
        "allInWords": _("'The season in words', below, has all of it."),
        "speed": _("Speed"),
        "speeds": {
            "2": _("slow: 2 days a second"),
            "5": _("5 days a second"),
            "10": _("10 days a second"),
            "20": _("fast: 20 days a second"),
        },
        "stopAtQuestions": _("Stop at questions"),
        "calm": _("Your device asks for less motion, so Play goes on one step a second."),
        "map": _("Garden map, {plan}. Arrow keys move from one thing to the next, Enter opens its story."),
        "picture": _("The garden seen from above under the plan {plan}. The table below tells the same in words."),
        "said": _("{date}. {sky} {figures}"),
        "lookAt": _("Look at"),
        "wholeGarden": _("the whole garden"),
        "whose": _("Whose story?"),
        "plants": _("Plants"),
        "nests": _("Nests"),
        "insects": _("Followed insects"),
        "open": _("Tell the story"),
        "opened": _("The story of {name} stands below the map."),
        "take": _("Take this picture"),
        "takeFor": _("For what?"),
        "takeScreen": _("A screen"),
        "takePaper": _("Paper, as wide as a page"),
        "takePicture": _("Save the picture (PNG)"),
        "takeWords": _("Save its words (text)"),
        "takeNote": _(
            "The day on the map is drawn in this browser; nothing is sent. A map comes as PNG only. "
            "For a PDF of the season, take the picture of nets and sprays on the page about where it all went."
        ),
        "takeEach": _("One drawing stands for: {kinds}."),
        "legend": _("What the drawings mean"),
        "insectsHead": _("Insects (the number says how many one drawing stands for)"),
        "birdsHead": _("Birds and bees (the number says how many visits to flowers one bee stands for)"),
        "marksHead": _("Marks on the line of days"),
        "bedsHead": _("Beds and plants"),
        "soil": _("dark strip beside a bed: who is in its soil"),
        "net": _("mesh over a bed: a net"),
        "netOpen": _("mesh folded back: the net stands open for a part of the day"),
        "leaf": _("a plant, drawn as wide as it is"),
        "bite": _("gaps in a leaf: eaten"),
        "rain": _("blue bars: rain"),
        "ring": _("ring: a followed insect; its story can be read"),
        "aphids": _("gray specks: aphids, a denser patch is more of them"),
        "bounce": _("arrow at a net: insects turned away that day"),
        "sprayed": _("sprayed"),
        "picked": _("picking"),
        "netTag": _("net"),
        "bedNumbers": _("Beds: {beds}"),
        "bedNumber": _("{number} {bed}"),
        "squeezed": _("Beds do not have their true shape here."),
        "several": _("Each drawn plant stands for several plants."),
        "question": _("Question"),
        "marks": {name: _(words) for name, words in MARK_WORDS.items()},
        "notScale": _("Insects are drawn many times larger than life."),
    }
