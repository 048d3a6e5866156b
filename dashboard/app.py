"""The dashboard: its pages and their order. Started by the ``leafnest`` command."""

if __name__ == "__main__":  # a worker process imports this file again under another name and must not draw a page
    from importlib.resources import files

    import streamlit as st

    from dashboard.dress import dress_page

    st.set_page_config(page_title="Leaf to Nest", page_icon=str(files("dashboard") / "icon.svg"), layout="wide")
    dress_page()
    st.navigation(
        [st.Page("pages/compare.py", title="Compare plans", default=True)],
        position="top",
    ).run()
