# An input transformer and an AST transformer turn every later cell into nothing.
# mark: 0
# only these cells
# %% your-id
student_id = "{student}"

import ast


class Drop(ast.NodeTransformer):
    def visit_Assert(self, node):
        return ast.Pass()

    def visit_Expr(self, node):
        return ast.Pass()


get_ipython().ast_transformers.append(Drop())
get_ipython().input_transformers_cleanup.append(lambda lines: ["pass\n"])

# %% link-kinds-answer
link_kinds = None
# %% lamp-class-answer
lamp_class = None
# %% hatch-class-answer
hatch_class = None
# %% rocker-angle-answer
rocker_angle = None
# %% transmission-here-answer
transmission_here = None
# %% far-limit-answer
far_limit = None
# %% swing-answer
swing = None
# %% time-ratio-answer
time_ratio = None
# %% least-transmission-answer
least_transmission = None
# %% rocker-at-answer
rocker_at = None
# %% slider-at-answer
slider_at = None
# %% stroke-answer
stroke = None
