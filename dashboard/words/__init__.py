"""Words of other languages: a catalogue for each (``es.po``), the trade's terms, and the care of both."""
