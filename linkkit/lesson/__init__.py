"""`linkkit lesson`: a notebook and an assignment for a machine of the lecturer's own."""
