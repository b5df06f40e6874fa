"""Papers: one page for one decision, set by Typst from a template and the data of an answer."""

from .offer import Kind, NotOffered, Offer, offers
from .printing import Paper, print_paper
from .subject import Picture, Subject

__all__ = ["Kind", "NotOffered", "Offer", "Paper", "Picture", "Subject", "offers", "print_paper"]
