"""Heat, moisture and air: a network made from the habitat, and its days, years and failures."""
