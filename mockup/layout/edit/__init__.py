"""A layout edited in its own text: edits are data (`mockup.model.edit`), everything here is pure.

`apply` makes a list of edits in a text; `undo` adds undo, redo and what is unsaved; `merge` brings changes from
two sides together; `plan` says what each edit means and `variants` what a variant's values are; `writing` and what it
builds on (`syntax`, `blocks`, `literals`, `lengths`) change the text; `assignment` is ``KEY=VALUE`` of a sweep.
"""
