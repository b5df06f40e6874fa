"""Money and figures as the screens write them: as the papers do."""

from inspect_app.pictures.figure_words import HARD_SPACE as HARD_SPACE
from inspect_app.pictures.figure_words import MINUS as MINUS
from inspect_app.pictures.figure_words import against as against
from inspect_app.pictures.figure_words import against_limit as against_limit
from inspect_app.pictures.figure_words import close_call as close_call
from inspect_app.pictures.figure_words import decimals as decimals
from inspect_app.pictures.figure_words import give as give
from inspect_app.pictures.figure_words import limit_places as limit_places
from inspect_app.pictures.figure_words import limit_whose as limit_whose
from inspect_app.pictures.figure_words import measured as measured
from inspect_app.pictures.figure_words import money as money
from inspect_app.pictures.figure_words import number as number
from inspect_app.pictures.figure_words import odds as odds
from inspect_app.pictures.figure_words import places_of as places_of
from inspect_app.pictures.figure_words import quantity as quantity
