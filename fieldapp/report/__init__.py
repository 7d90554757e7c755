"""What is printed: sheets, lists, pictures of the unrolled drive, and the shapes they share."""
