"""What sideways force does the design earthquake put on each body? One file a standard."""
