# The same formula in another form: full marks.
# mark: 19
# %% diagonal-formula-answer
sign = "-" if str(diagonal.measured) == "from the line OQ" else "+"
squared = f"(a {sign} d*cos(theta))**2 + d**2*sin(theta)**2"
diagonal_formula = squared if str(diagonal.wanted) == "AQ squared" else f"({squared})^(1/2)"
