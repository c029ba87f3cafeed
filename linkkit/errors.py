"""What linkkit says when it is given something it cannot use: one sentence in the user's words."""


class LinkageError(ValueError):
    """A linkage, a length or an input that cannot be used, and what would be right.

    `where` names the part of a linkage that is meant, as in ``("links", "crank")``, where there is one.
    """

    def __init__(self, sentence, *, where=()):
        super().__init__(sentence)
        self.where = where


class MachineError(LinkageError):
    """A machine file that cannot be read: the file, the line, what is wrong and what would be right."""
