"""What can be done: measures that can be built, each with what it changes in the file, what it needs and takes."""
