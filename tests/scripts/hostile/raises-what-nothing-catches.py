# An error whose text can't be made.
# mark: 36
# %% lamp-class-answer
class Nasty(BaseException):
    def __str__(self):
        raise self

    __repr__ = __str__


raise Nasty
