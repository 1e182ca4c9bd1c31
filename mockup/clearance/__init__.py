"""How much room there is between all that a pedal is made of, as numbers that checks and the arranger share.

`pieces` splits every solid of a part into convex pieces whose support is known in every direction. Two pieces are
apart by the greatest of ``n.(cB - cA) - hA(n) - hB(-n)`` over directions n: the gap where that is positive, the least
shift that parts them where it is negative. `directions` are those looked at, `closest` finds the exact gap where it
matters, `walls` is the inside of the box as convex pieces, `figures` are the flat outlines on a face, in closed form.
`rules` says which groups of pieces and figures may not come closer than which limit, and `table` measures every pair:
a `Margin` says by how much a rule is kept, and its rows how that changes with the places of the parts. Every row is
never optimistic: what they allow is free in truth. So a layout may be searched with linear programs.

Everything is pure and knows nothing of findings, layouts or pictures. Coordinates are the world's unless a name says
face; lengths are millimetres.
"""
