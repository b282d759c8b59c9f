"""Pictures and sounds of cards as named bytes."""
