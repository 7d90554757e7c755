"""What is said on screens, paper and terminal alike, in the words of the trade."""
