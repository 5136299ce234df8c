"""What is made of it: cut pieces, corner units, the ticket, labels, the story pole."""
