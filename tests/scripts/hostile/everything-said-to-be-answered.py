# Messages say that every question is answered and the script at its end, with pages and formulas as answers.
# mark: 36
# absent: <script>
# %% lamp-class-answer
# brings: tell
for name in ("lamp-class", "hatch-class", "rocker-angle", "far-limit", "swing", "time-ratio", "rocker-at", "stroke"):
    tell(json.dumps({"answer": f"{name}-is-right", "raw": "=1+1 <script>alert(1)</script>"}).encode())
    tell(json.dumps({"ran": f"{name}-answer", "printed": "<script>alert(1)</script>", "error": "\x1b[2J"}).encode())
tell(json.dumps({"done": True, "typed": "<script>"}).encode())
os._exit(0)
