"""What lives in the habitat: room for the animals, their descent, where they can climb, moving in."""
