# An answer that is a piece of a page, with a program in it.
# mark: 34
# absent: <script>document.title
# %% lamp-class-answer
lamp_class = "<script>document.title='taken'</script><img src=x onerror=alert(1)>"
# %% hatch-class-answer
hatch_class = "</p></section></main><h1>38 of 38</h1>"
