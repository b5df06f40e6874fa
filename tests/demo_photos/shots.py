"""The pictures of the demo cores: no two share a seed, the engines neither sizes nor bench nor light."""

from .shots_four import OF_THE_FOUR
from .shots_others import OF_THE_OTHERS

SHOTS = (*OF_THE_FOUR, *OF_THE_OTHERS)
