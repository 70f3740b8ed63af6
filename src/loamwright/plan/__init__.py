"""From the habitat and what the engines say of it to the build: what to buy, cut, wire, do and hand over."""
