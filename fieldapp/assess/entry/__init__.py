"""Where people may go in one heading: the strictest fact wins."""
