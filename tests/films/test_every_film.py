"""Every film, whichever there are, is a possible layer and is taken wherever a film is named."""

from __future__ import annotations

import re

import numpy as np
import pytest

from mockup.comparison.sweep import axes
from mockup.decal import ink_over_paint as ink
from mockup.films import FILMS, USUAL, films
from mockup.layout.json_schema import json_schema
from mockup.model.finish import Film

WHITE = np.ones(3)


def test_every_file_gives_the_film_of_its_name() -> None:
    assert sorted(films()) == sorted(FILMS.names())
    assert films()[USUAL].is_clear
    assert json_schema()["$defs"]["DecalTable"]["properties"]["film"]["enum"] == list(films())


@pytest.mark.parametrize("film", films().values(), ids=lambda film: film.name)
class TestEveryFilm:
    def test_is_a_possible_layer(self, film: Film) -> None:
        assert re.fullmatch(r"[a-z].{4,60}[^.]", film.about)
        assert 0.0 <= film.reflectance < 1.0
        # Light that it sends back and lets through twice is no more than all of it.
        assert 0.0 <= film.transmittance <= (1.0 - film.reflectance) ** 2
        assert film.is_clear or film.caution is not None  # figures that nobody has measured are an estimate

    def test_unprinted_it_shows_what_two_layers_show(self, film: Film) -> None:
        """White ink is no ink: R0 + T2 p / (1 - R0 p), two layers in optical contact (Kubelka 1948), by hand."""
        for paint in (0.02, 0.5, 0.9):
            wanted = film.reflectance + film.transmittance * paint / (1.0 - film.reflectance * paint)
            assert ink.over(np.ones(3), np.full(3, paint), film) == pytest.approx(wanted, abs=1e-12)

    def test_is_swept_by_its_name(self, film: Film) -> None:
        (value,) = axes.axis("--film", "decal.film", film.name).values
        assert film.name in value.caption

    def test_measured_it_is_no_estimate(self, film: Film) -> None:
        assert film.measured(film.reflectance, film.transmittance) is film
        assert film.measured(0.61, 0.11).caution is None
