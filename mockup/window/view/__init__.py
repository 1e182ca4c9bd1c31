"""What is seen of the work in hand: the panes, the camera and what is drawn over them."""
