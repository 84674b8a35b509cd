"""What is not known, and what follows from it: chances, what drives them, what a year may bring."""
