"""What is said and kept: answers, agenda, replies, dialogue, journal."""
