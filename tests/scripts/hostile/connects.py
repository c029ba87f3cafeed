# Connections are made: to this machine, to others, by name, and by a socket of the system.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import socket

for family, kind, address in (
    (socket.AF_INET, socket.SOCK_STREAM, ("127.0.0.1", 22)),
    (socket.AF_INET, socket.SOCK_DGRAM, ("127.0.0.1", 53)),
    (socket.AF_INET6, socket.SOCK_STREAM, ("::1", 22)),
    (socket.AF_UNIX, socket.SOCK_STREAM, "\0abstract"),
):
    try:
        with socket.socket(family, kind) as end:
            end.settimeout(0.2)
            end.connect(address)
            reached.append(address)
    except OSError:
        pass
lamp_class = "the attack got through: " + str(reached) if reached else right
