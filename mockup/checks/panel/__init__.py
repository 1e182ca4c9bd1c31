"""The pedal as it is built: solids, plans of each face, room, and the moves that mend it."""
