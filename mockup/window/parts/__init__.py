"""What the station Parts shows: the drawer, one part, several, all of them, and what is carried."""
