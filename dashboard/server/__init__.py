"""The servers of the pages, for this machine and for a class's devices: settings, start, end, files on request."""
