"""Papers: one page for one decision, set by Typst from a template and the data of an answer."""

from .offer import TITLES, Kind, NotOffered, Offer, offers
from .printing import Paper, print_paper
from .subject import Picture, Subject, picture_from

__all__ = [
    "TITLES",
    "Kind",
    "NotOffered",
    "Offer",
    "Paper",
    "Picture",
    "Subject",
    "offers",
    "picture_from",
    "print_paper",
]
