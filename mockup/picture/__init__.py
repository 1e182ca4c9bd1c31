"""Pictures of a pedal: what is asked for, how it is framed and taken, and the marks drawn over it."""
