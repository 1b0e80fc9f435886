"""What is drawn of an elevation, in millimetres: the same shapes for screen, paper and file."""
