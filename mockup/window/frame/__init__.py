"""The frame round the picture: head, rail, foot, net, and what is drawn over the picture."""
