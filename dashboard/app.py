"""The dashboard: its screens, in the order of a lesson. Started by the ``leafnest`` command."""

if __name__ == "__main__":  # a worker process imports this file again under another name and must not draw a page
    from importlib.resources import files

    import streamlit as st

    from dashboard.language.tongue import _
    from dashboard.page.dress import dress_page
    from dashboard.page.manner import begin_visit, show_switches, tell_browser
    from dashboard.page.view import begin_view, is_room_view
    from dashboard.seasons.work import warm_up
    from dashboard.server.lasting import let_papers_last
    from dashboard.sharing.role import count_device, is_class_server

    FIRST = "first"  # a name that the first page keeps to itself, so that it can be found under others

    st.set_page_config(page_title="Leaf to Nest", page_icon=str(files("dashboard") / "icon.svg"), layout="wide")
    dress_page()
    let_papers_last()
    complaints = begin_visit()
    is_class = is_class_server()
    if is_class:
        count_device(st.context.ip_address)
    # The folder is not called "pages": Streamlit would serve its files by themselves, past this one.
    garden_name, seat_name = ("garden", FIRST) if is_class else (FIRST, "seat")
    garden = st.Page("screens/garden.py", title=_("Choose a garden"), url_path=garden_name, default=not is_class)
    screens = [
        st.Page("screens/guess.py", title=_("Make a guess"), url_path="guess"),
        st.Page("screens/watch.py", title=_("Watch it grow"), url_path="watch"),
        st.Page("screens/compare.py", title=_("Compare"), url_path="compare"),
        st.Page("screens/went.py", title=_("Where it all went"), url_path="went"),
        st.Page("screens/try_out.py", title=_("Try it yourself"), url_path="try"),
        st.Page("screens/home.py", title=_("Take it home"), url_path="take"),
        st.Page("screens/origin.py", title=_("The numbers"), url_path="numbers"),
    ]
    seat = st.Page("screens/seat.py", title=_("Your seat"), url_path=seat_name, default=is_class)
    sharing = st.Page("screens/share.py", title=_("Share"), url_path="share")
    # The first page lives at the bare address; its own name, and that of the other server's page, lead to it, too.
    first, names = (seat, ("seat", "share")) if is_class else (garden, ("garden", "seat"))

    def first_page() -> None:  # noqa: D103
        st.switch_page(first, query_params={word: st.query_params.get_all(word) for word in st.query_params})

    also = [st.Page(first_page, title=first.title, url_path=name, visibility="hidden") for name in names]
    shown = [seat, *screens, garden] if is_class else [garden, *screens, sharing]
    chosen = st.navigation([*shown, *also], position="top")
    begin_view(chosen.url_path)
    tell_browser()
    if not is_room_view():
        show_switches()
    for complaint in complaints:
        st.warning(complaint)
    chosen.run()
    warm_up()  # once the first page stands: getting ready beside it would keep it waiting
