"""The addresses of this machine in its networks, the one that other machines most likely reach first."""

import ipaddress
import socket
import struct
import sys
from collections.abc import Iterator
from contextlib import suppress

# One in each private network and one in the open: nothing is sent, the machine only says from which of
# its addresses it would.
_SOMEWHERE = ("192.0.2.1", "192.168.0.1", "10.0.0.1", "172.16.0.1")
_ASK_ADDRESS = 0x8915


def own_addresses() -> tuple[str, ...]:
    """IPv4 addresses by which a phone in the same network may reach this machine; none if it has none."""
    found = dict.fromkeys((*_towards_others(), *_of_interfaces(), *_of_name()))
    return tuple(text for text in found if _is_reached(text))


def own_names() -> tuple[str, ...]:
    """The name of this machine, and the one by which networks without a name server find it."""
    name = socket.gethostname().partition(".")[0].lower()
    return (name, f"{name}.local") if name else ()


def _is_reached(text: str) -> bool:
    address = ipaddress.ip_address(text)
    return not (address.is_loopback or address.is_unspecified or address.is_multicast)


def _towards_others() -> Iterator[str]:
    for other in _SOMEWHERE:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect((other, 9))
            yield str(probe.getsockname()[0])


def _of_name() -> Iterator[str]:
    with suppress(OSError):
        for *_, place in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            yield str(place[0])


def _of_interfaces() -> Iterator[str]:
    """Linux tells the address of each interface; elsewhere what the other ways find must do."""
    if sys.platform != "linux":
        return
    import fcntl

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        for _, name in socket.if_nameindex():
            with suppress(OSError):
                told = fcntl.ioctl(asked, _ASK_ADDRESS, struct.pack("256s", name.encode()))
                yield socket.inet_ntoa(told[20:24])
