"""Photos on the glass: taking, looking, drawing over them, measuring on them."""
