"""There is a socket in place of the notebook."""

import os
import socket

MARK = None
SAYS = "can't be read"


def hand_in(folder, notebook):
    here = os.getcwd()
    os.chdir(folder)  # the path of a socket may not be long
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind("four-links.ipynb")
    finally:
        os.chdir(here)
