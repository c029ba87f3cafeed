# An error whose class has no name and whose text never ends.
# mark: 36
# %% lamp-class-answer
class Meta(type):
    @property
    def __name__(cls):
        raise SystemExit


class Odd(BaseException, metaclass=Meta):
    def __str__(self):
        while True:
            pass


raise Odd
