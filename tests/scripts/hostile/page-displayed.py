# Pages, programs and pictures are displayed.
# mark: 36
# absent: document.title
# %% lamp-class-answer
from IPython.display import HTML, Javascript, display

display(HTML("<script>document.title='taken'</script>"), Javascript("document.title='taken'"))
HTML("<h1>38 of 38</h1>")
