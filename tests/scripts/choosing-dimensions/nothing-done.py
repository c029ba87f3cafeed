# Nothing but the id.
# mark: 0
# only these cells
