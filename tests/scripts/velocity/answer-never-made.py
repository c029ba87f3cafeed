# An answer under another name: nothing of 3 marks.
# mark: 25
# %% rod-centre-answer
the_rod_centre = "12 mm"
