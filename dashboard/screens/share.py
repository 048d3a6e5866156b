"""Open the pages to the class's devices, see how many got in, and close them again. Only on the teacher's machine."""

import io

import streamlit as st

from dashboard.language.saying import say_error, say_list
from dashboard.language.tongue import _, many
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.lesson_code import code_of
from dashboard.page.again import link_of
from dashboard.page.view import place_before_all, show_with_picture
from dashboard.page.visit import gardens, open_screen, show_setting, tell_what_was_moved
from dashboard.sharing.network import local_addresses
from dashboard.sharing.share import Share, share
from sim.errors import LeafnestError

LOOK_SECONDS = 2
QR_SCALE = 8


def page() -> None:
    """Draw the page from top to bottom."""
    top = place_before_all()
    lesson = open_screen(_("How do the class's devices get in?"))
    show_setting(lesson)
    tell_what_was_moved(lesson)
    if share().is_started:
        with st.container() if top is None else top:
            show_way_in(lesson)
    else:
        offer(share())
    show_ladder()


def offer(shared: Share) -> None:
    """Say what sharing opens, and let the teacher do it."""
    st.markdown(
        _(
            "Sharing opens these pages to every device in the same network, without a password, until you stop it or "
            "end the program. Each device has its own guess and settings, and sees nobody else's. Not opened: this "
            "page, your guess, and the files of this computer. Nothing goes to the internet."
        )
    )
    known = local_addresses()
    if not known:
        st.warning(
            _("This computer is in no network. Join one, or open a hotspot on it or on a phone; then share again.")
        )
        st.button(_("Look again"))
        return
    address = known[0]
    if len(known) > 1:
        address = st.selectbox(_("This computer has several addresses. In which network is the class?"), known)
    if st.button(_("Share with the class's devices"), type="primary", icon=":material/wifi:"):
        try:
            shared.start(address)
        except LeafnestError as error:
            st.error(say_error(error))
            return
        st.rerun()


def show_way_in(lesson: Lesson) -> None:
    """Show address, QR code and how many devices got in, and let the teacher stop."""
    code = code_of(lesson, gardens())
    share().tell(code)
    link = link_of(code, share().link)
    show_with_picture(lambda: show_square(link, code), tell_way_in)


def tell_way_in() -> None:
    """Tell what the square and the code are for."""
    st.markdown(
        _(
            "Point a camera at the square, or type this address into a browser. Devices begin with the setting of this "
            "page. Its code is below, for a device that has wandered off."
        )
    )


def show_square(link: str, code: str) -> None:
    """Show address, code and square, with the count of devices and the way to stop."""
    import segno

    left, right = st.columns([2, 1])
    with left:
        st.html(f'<p class="way-in">{share().link}</p><p class="way-in">{code}</p>')
        show_count()
        if st.button(_("Stop sharing"), type="primary", icon=":material/wifi_off:"):
            share().stop()
            st.rerun()
    with right:
        picture = io.BytesIO()
        segno.make(link, error="m").save(picture, kind="png", scale=QR_SCALE, border=4)
        st.image(picture.getvalue(), alt=_("QR code of {link}").format(link=link))


@st.fragment(run_every=LOOK_SECONDS)
def show_count() -> None:
    """Count the devices that got in, from time to time."""
    shared = share()
    if not shared.is_started:
        st.warning(_("Sharing has ended."))
    elif shared.is_cut_off:
        st.error(
            _(
                "This computer has left the network, so no device gets to {link} any more. Turn on a hotspot, stop "
                "sharing, and share again. Or go on from this one screen, with hands and cards: nothing is lost."
            ).format(link=shared.link),
            icon=":material/wifi_off:",
        )
    elif not shared.is_open:
        st.info(_("Opening …"), icon=":material/hourglass_top:")
    else:
        count = shared.devices
        said = many("{count} device got in.", "{count} devices got in.", count).format(count=count)
        st.markdown(f"## {said if count else _('No device yet.')}")
        if shared.twice:
            told = many(
                "Seat {seats} was typed on two devices.",
                "Seats {seats} were typed on two devices each.",
                len(shared.twice),
            )
            st.warning(told.format(seats=say_list([str(seat) for seat in shared.twice])), icon=":material/group:")


def show_ladder() -> None:
    """Say what to do if no device gets in: a hotspot first, then cards."""
    st.subheader(_("If no device gets in"))
    st.markdown(
        _(
            "Many school networks keep devices apart, and a computer may ask you to allow Python in its firewall.\n"
            "1. **Same network?** Check that the devices are in the network of this computer, not in one for guests.\n"
            "2. **A hotspot.** Turn on the hotspot of this computer or of a phone; it needs no internet. Let the "
            "devices join, stop sharing, and share again with the new address.\n"
            "3. **Cards and hands.** With no network at all, the same lesson runs from this one screen. The class "
            "guesses by a show of hands, and each seat has a card."
        )
    )


if __name__ == "__main__":
    page()
