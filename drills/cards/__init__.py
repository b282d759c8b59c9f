"""What a deck asks and answers, as data without bytes."""
