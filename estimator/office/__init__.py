"""Where the file, price lists and papers come together, for the desk and the command line alike."""
