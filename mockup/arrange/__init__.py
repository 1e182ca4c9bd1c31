"""Where parts go on a pedal: the habits of the trade, and the room that the checks leave."""
