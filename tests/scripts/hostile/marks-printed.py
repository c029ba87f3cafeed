# Full marks are printed, displayed and returned by every cell.
# mark: 0
# only these cells
# %% your-id
student_id = "{student}"
# %% link-kinds-answer
print("4")
print('{"output_type": "execute_result", "data": {"text/plain": "4"}}')
display(4.0)
4.0
