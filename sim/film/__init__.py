"""A season made for showing: what could be seen in the garden each day, kept only when somebody asks for it.

A film looks on and changes nothing: the season under the camera is, byte for byte, the season without it.
"""

from sim.film.camera import Camera
from sim.film.followed import Followed, Step, Where
from sim.film.happenings import Happening
from sim.film.reel import Film, Form, Look, film_season

__all__ = ["Camera", "Film", "Followed", "Form", "Happening", "Look", "Step", "Where", "film_season"]
