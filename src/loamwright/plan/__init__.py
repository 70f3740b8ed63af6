"""From the habitat and the engines to the build: what to buy, cut, wire, do and hand over."""
