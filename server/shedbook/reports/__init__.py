"""What is worked out at the shed alone, over a garden or over seasons; no words, no storage."""
