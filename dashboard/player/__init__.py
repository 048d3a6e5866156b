"""The garden map that plays a season in the browser; see ``README.md`` beside this file."""
