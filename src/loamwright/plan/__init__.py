"""From the habitat and what the engines say of it to the build: buy, cut, wire, do, hand over."""
