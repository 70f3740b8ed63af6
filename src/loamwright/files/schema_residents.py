"""Animals, where they come from, people and the builder's own needs, as written in the file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from loamwright.files.schema_values import (
    Age,
    Count,
    Duration,
    Extent,
    Level,
    Name,
    Part,
    Portion,
    Proportion,
    Text,
    Volume,
    WordOrWords,
)
from loamwright.habitat.needs import CLIMATE, LIGHT


class AnimalPart(Part):
    """A group of animals of one species."""

    species: Name = Field(description="Key of an animal of the catalogue.")
    males: Count | None = Field(None, description="Adult males; left out: as in individuals.")
    females: Count | None = Field(None, description="Adult females; left out: as in individuals.")
    young: Count | None = Field(
        None, description="Young, or sex unknown; left out: as in individuals."
    )
    origins: WordOrWords | None = Field(
        None, alias="from", description="The existing habitat they come from, or a list of them."
    )
    individuals: Annotated[list[Name], Field(max_length=1000)] | None = Field(
        None, description="Names of the animals in the pedigree that move in."
    )
    length: Extent | None = Field(
        None,
        description="Of the largest, from snout to vent (tortoises: straight along the carapace); left "
        "out: as in the catalogue.",
    )
    total_length: Extent | None = Field(
        None, description="Of the largest, with its tail; left out: as in the catalogue."
    )
    reach: Extent | None = Field(
        None, description="The widest gap they bridge; left out: their length without the tail."
    )
    jump: Extent | None = Field(
        None, description="The widest gap they were seen to jump; left out: none."
    )
    companions: WordOrWords | None = Field(
        None,
        alias="with",
        description="Key of another species in the box, or a list, that you judge they may live with.",
    )
    offspring: Literal["stay", "leave"] | None = Field(
        None, description="Whether their young stay in this habitat; left out: not decided."
    )
    enters: Age | None = Field(
        None,
        description="When they are to move in: time from the first old habitat taken down, or from "
        "planting where there is none; left out: not decided.",
    )


class EggPart(Part):
    """What is known of eggs in a habitat that is taken down."""

    females: Count | None = Field(
        None, description="Females that lay; left out: those named in the habitat."
    )
    since: Age | None = Field(None, description="Time since the last clutch that is accounted for.")
    interval: Age | None = Field(
        None, description="Mean time between clutches of one female, from your own record."
    )
    clutch: Proportion | None = Field(
        None, description="Mean eggs in a clutch; left out: the middle of the catalogue's."
    )
    searches: Annotated[list[Count], Field(max_length=100)] = Field(
        default_factory=list, description="Eggs found and taken out in each search so far."
    )
    detection: Portion | None = Field(
        None,
        description="Chance of an egg that is there to be found in one search; left out: from how the "
        "finds fall from search to search.",
    )


class ExistingPart(Part):
    """A habitat that is taken down for this build."""

    name: Name = Field(description="Its name.")
    ground: Volume | None = Field(None, description="Volume of its ground; left out: none.")
    condition: dict[Name, Name] | None = Field(
        None, description="The state of its ground in words, such as {moist: even, smell: earthy}."
    )
    mix: Name | None = Field(
        None,
        description="Key of the finished mix its ground was made of; left out: like the mix it goes "
        "into.",
    )
    animals: Annotated[list[Name], Field(max_length=1000)] = Field(
        default_factory=list, description="Names, in the pedigree, of the animals in it."
    )
    plants: Annotated[list[Name], Field(max_length=1000)] = Field(
        default_factory=list, description="The plants in it, in words."
    )
    counted: Count | None = Field(
        None, description="Animals counted as it was taken down; left out: not counted yet."
    )
    quarantined: Age | None = Field(
        None,
        description="How long its animals are to be, or were, in quarantine; left out: not said.",
    )
    eggs: EggPart | None = Field(None, description="Its record of laying and the search for eggs.")


class IndividualPart(Part):
    """One animal of the pedigree, living or not."""

    name: Name = Field(description="Its name.")
    species: Name | None = Field(
        None, description="Key of an animal of the catalogue; left out: not known."
    )
    sex: Literal["male", "female", "unknown"] | None = Field(
        None, description="male, female or unknown; left out: unknown."
    )
    sire: Name | None = Field(None, description="Name of its father; left out: not known.")
    dam: Name | None = Field(None, description="Name of its mother; left out: not known.")


class PeoplePart(Part):
    """The people who work at the enclosure."""

    in_front: Duration | None = Field(
        None,
        description="Time a day someone works in front of the open doors; left out: 30 min.",
    )
    distance: Extent | None = Field(
        None, description="From their eyes to the plane of the doors; left out: 30 cm."
    )


class NeedPart(Part):
    """A need of the builder's own, beside those of the catalogue or in place of one."""

    quantity: Literal[(*LIGHT, *CLIMATE)] = Field(  # type: ignore[valid-type]
        description="What is asked for; uvi and uvi_step are plain numbers, the others have units."
    )
    low: Level | None = Field(None, description="The lowest value that will do.")
    high: Level | None = Field(None, description="The highest value that will do.")
    site: Name | None = Field(
        None, description="The site it is held at; left out: every site of the one it is about."
    )
    about: Name | None = Field(
        None, description="Who or what needs it: an animal's key, a plant, a lamp, or people."
    )
    facing: Literal["up", "brightest", "normal"] | None = Field(
        None, description="How the light is measured there; left out: brightest."
    )
    source: Text = Field(description="Where the number comes from, in the builder's words.")
