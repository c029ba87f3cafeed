# An error whose name and text are pieces of a page.
# mark: 36
# absent: <iframe
# %% lamp-class-answer
raise type("<img/src/onerror=alert(1)>", (Exception,), {})("<iframe srcdoc='x'></iframe>")
