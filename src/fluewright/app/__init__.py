"""The use cases: the one place where the core meets files, clock and renderers.

Command line, web page and Python callers all come through here. Renderers and drawings are
imported where they are used, so that judging starts fast.
"""

from __future__ import annotations

import hashlib
import os
import tomllib
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Literal

from fluewright import __version__, capacity
from fluewright.app.writing import Written as Written
from fluewright.app.writing import write_bytes as write_bytes
from fluewright.app.writing import write_text as write_text
from fluewright.asked import Library
from fluewright.edition import Edition, NumberLimit, StepLimit, edition_from
from fluewright.errors import BadEdition, BadSurvey, Fault, FluewrightError, NoSuchEdition
from fluewright.files import file_name, survey_bytes, survey_from_bytes, survey_sha256
from fluewright.files.tools import default_tools
from fluewright.finding import Judgement
from fluewright.frozen import frozen
from fluewright.judge import judge
from fluewright.rules import needed
from fluewright.survey import Chimney, Survey

if TYPE_CHECKING:
    from fluewright.cap_place import CapLimits
    from fluewright.drawing import Scene, TopRule
    from fluewright.explain import Prose
    from fluewright.render.pictures import Pictures
    from fluewright.report.inputs import CheckList
    from fluewright.report.tree import Report

DATA = os.path.join(os.path.dirname(os.path.dirname(__file__)), "data")
DEFAULT_EDITION = "umc_2012"
Sheet = Literal["letter", "a4"]
Style = Literal["us", "metric"]
For = Literal["owner", "trade", "official"]


@frozen
class Job:
    """A survey with where it came from."""

    survey: Survey
    file: str
    sha256: str

    @property
    def folder(self) -> str:
        """Where its photos are looked for."""
        return os.path.dirname(os.path.abspath(self.file)) if self.file != "stdin" else os.getcwd()


# ---------------------------------------------------------------- data


def _bytes(*parts: str) -> bytes:
    with open(os.path.join(DATA, *parts), "rb") as file:
        return file.read()


def edition_ids() -> tuple[str, ...]:
    """Ids of the editions that this package ships."""
    names = os.listdir(os.path.join(DATA, "editions"))
    return tuple(sorted(n.removesuffix(".toml") for n in names if n.endswith(".toml")))


_AMENDED: dict[str, Edition] = {}  # what this process read, by the id it shows


@cache
def edition(id: str) -> Edition:
    """One edition, loaded and checked; or, from an amendment file, an edition as amended.

    Args:
        id: of an edition that ships, or the path of an amendment file (``.toml``).
    Raises:
        NoSuchEdition: no such edition or file.
        BadEdition: the file lacks something or holds something unknown.
    """
    if id in _AMENDED:
        return _AMENDED[id]
    if id.endswith(".toml"):
        return _amended(id)
    if id not in edition_ids():
        raise NoSuchEdition(
            f'"{id}" is not an edition this program knows. Known: {", ".join(edition_ids())}.'
        )
    raw = _bytes("editions", f"{id}.toml")
    return edition_from(_toml(raw, f"edition {id}"), hashlib.sha256(raw).hexdigest(), needed())


def _toml(raw: bytes, what: str) -> dict[str, object]:
    try:
        return tomllib.loads(raw.decode("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadEdition(f"{what}: {error}") from None


def _amended(file: str) -> Edition:
    """An edition with the amendments of a file over it."""
    from fluewright.amendment import amended, over
    from fluewright.rules import users

    try:
        with open(file, "rb") as opened:
            raw = opened.read()
    except OSError as error:
        raise NoSuchEdition(
            f"{file}: the amendment file cannot be read: {error.strerror}."
        ) from None
    data = _toml(raw, file)
    try:
        base = edition(over(data))
        both = hashlib.sha256(base.sha256.encode() + raw).hexdigest()
        made = amended(base, data, both, needed(), users())
    except BadEdition as error:
        raise BadEdition(f"{file}: {error}") from None
    _AMENDED[made.id] = made
    return made


def data_table(*parts: str) -> dict[str, object]:
    """A table of the package's data, parsed."""
    return _toml(_bytes(*parts), "/".join(parts))


@cache
def tables() -> capacity.Library:
    """The capacity tables with their index."""
    index = tomllib.loads(_bytes("tables", "index.toml").decode("utf-8"))
    texts = {name: _bytes("tables", name).decode("utf-8") for name in capacity.FILES}
    return capacity.library_from(index, texts)


def tables_with(*groups: str) -> capacity.Library:
    """The same with groups of tables that only some questions need."""
    found = tables()
    for name in groups:
        group = capacity.GROUPS[name]
        index = tomllib.loads(_bytes("tables", group.index).decode("utf-8"))
        texts = {name: _bytes("tables", name).decode("utf-8") for name in group.files}
        found = capacity.extended(found, group, index, texts)
    return found


@cache
def library(*groups: str) -> Library:
    """What judging needs besides survey and edition, with further groups of tables."""
    return Library(default_tools(), tables_with(*groups).tables)


def library_for(survey: Survey) -> Library:
    """What judging this survey needs: tables that nothing in it asks for are not read."""
    told = [path.chimney for path in survey.paths]
    told += [vent.chimney for vent in survey.common.values()]
    chimney = any(isinstance(one, Chimney) for one in told) or any(
        piece.wall == "masonry" for piece in survey.every_piece()
    )
    wanted = {"masonry": chimney, "common": bool(survey.common)}
    return library(*(name for name, needed_ in wanted.items() if needed_))


@cache
def prose() -> dict[str, Prose]:
    """What each rule asks, why, and how to see it, in words."""
    from fluewright.explain import prose_from

    names = sorted(n for n in os.listdir(os.path.join(DATA, "rules")) if n.endswith(".toml"))
    return dict(prose_from({n: tomllib.loads(_bytes("rules", n).decode("utf-8")) for n in names}))


# ---------------------------------------------------------------- use cases


def read_job(source: str) -> Job:
    """A survey file, read and checked.

    Raises:
        BadSurvey: with every fault of the file.
    """
    raw = survey_bytes(source)
    name = file_name(source)
    return Job(survey_from_bytes(raw, name), name, survey_sha256(raw))


def editions_for(job: Job, asked: Sequence[str]) -> tuple[Edition, ...]:
    """The editions asked for; else the one the survey names; else the default.

    Raises:
        NoSuchEdition: one of them is not known.
        BadSurvey: the survey names one that is not known.
    """
    if asked:
        return tuple(edition(id) for id in dict.fromkeys(asked))
    named = job.survey.job.edition
    if named is None:
        return (edition(DEFAULT_EDITION),)
    if named not in edition_ids():
        known = ", ".join(edition_ids())
        raise BadSurvey(
            job.file,
            [Fault("job.edition", f'"{named}" is not known. Write one of {known}.')],
        )
    return (edition(named),)


def built_under(survey: Survey, file: str = "survey") -> Edition | None:
    """The edition in force when it was built, where the job names one that is held.

    Raises:
        BadSurvey: what it names is neither such an edition nor a year.
    """
    named = survey.job.built_under
    if not isinstance(named, str):
        return None
    if named in edition_ids():
        return edition(named)
    if len(named) == 4 and named.isdigit():
        return None
    known = ", ".join(edition_ids())
    text = f'"{named}" is no year and no edition. Write the year, or one of {known}.'
    raise BadSurvey(file, [Fault("job.built_under", text)])


def judge_job(job: Job, asked: Sequence[str] = (), style: Style = "us") -> tuple[Judgement, ...]:
    """The survey judged by each edition, in the order asked."""
    built = built_under(job.survey, job.file)
    return tuple(
        judge(job.survey, one, library_for(job.survey), job.sha256, style, built)
        for one in editions_for(job, asked)
    )


class NoSuchPath(FluewrightError):
    """A sheet was asked for of which the survey knows nothing."""


def sheet_names(job: Job, asked: str | None = None) -> tuple[str, ...]:
    """What is drawn, each on a sheet of its own: every common vent, every path that joins none.

    Args:
        job: the survey.
        asked: one of them, or an appliance on one of them; None: all.
    Raises:
        BadSurvey: the survey holds nothing to draw.
        NoSuchPath: nothing in it has that name.
    """
    from fluewright.drawing import sheets

    survey = job.survey
    names = sheets(survey)
    if not names:
        raise BadSurvey(job.file, [Fault("paths", "there is no path to draw. Add one.")])
    if asked is None:
        return names
    joined = {path.from_: path.joins for path in survey.paths if path.joins in survey.common}
    name = joined.get(asked) or asked
    if name not in names:
        known = ", ".join(dict.fromkeys((*names, *joined)))
        raise NoSuchPath(
            f'{job.file}: "{asked}" is no common vent, and no appliance with a path. '
            f"Write one of {known}."
        )
    return (name,)


def chart_names(job: Job, asked: str | None = None) -> tuple[str, ...]:
    """The sheets whose cap has a chart: those of gas vents, not of chimneys.

    Raises:
        BadSurvey: the survey holds nothing to draw.
        NoSuchPath: nothing in it has that name.
    """
    from fluewright.drawing import is_chimney

    return tuple(n for n in sheet_names(job, asked) if not is_chimney(job.survey, n))


def heed(job: Job) -> tuple[str, ...]:
    """What to heed before going up or taking the vent apart, for every path, each once."""
    from fluewright.precautions import before_going_up, lines

    said = (text for path in job.survey.paths for text in lines(before_going_up(job.survey, path)))
    return tuple(dict.fromkeys(said))


def elevation_svg(job: Job, judgement: Judgement, sheet: Sheet, style: Style) -> str:
    """The dimensioned elevation as SVG; the first where there are several sheets."""
    from fluewright.render.svg import to_svg

    return to_svg(elevation_scene(job, judgement, sheet, style, sheet_names(job)[0]))


def elevation_scene(job: Job, judgement: Judgement, sheet: Sheet, style: Style, name: str) -> Scene:
    """The dimensioned elevation of that name as a scene."""
    from fluewright.drawing import elevation

    return elevation(
        job.survey, name, judgement, sheet=sheet, style=style, version=__version__,
        top_rule=_top_rule(edition(judgement.edition.id)),
    )  # fmt: skip


def _top_rule(one: Edition) -> TopRule | None:
    """How high a chimney must end by an edition; None where it holds no such limit."""
    from fluewright.drawing import TopRule
    from fluewright.facts.terminal import CIRCLE_M

    roof, building = (one.limits.get(f"chimney.above_{over}_min") for over in ("roof", "building"))
    if not isinstance(roof, NumberLimit) or not isinstance(building, NumberLimit):
        return None
    return TopRule(roof.value, building.value, CIRCLE_M)


def report_tree(
    job: Job,
    judgements: tuple[Judgement, ...],
    audience: For,
    sheet: Sheet,
    style: Style,
    made_on: str,
) -> tuple[Report, Pictures]:
    """The report as a tree, and what its figures show.

    Photos that cannot be read are named in the report in their place.
    """
    from fluewright.app.draft_report import drafts_of
    from fluewright.render.pictures import Pictures
    from fluewright.report.inputs import Figures, Precautions, Provenance
    from fluewright.report.tree import Audience
    from fluewright.report.whole import build

    names = sheet_names(job)
    drawn = {n: elevation_scene(job, judgements[0], sheet, style, n) for n in names}
    charts = {n: cap_chart_scene(job, judgements[0], sheet, style, n) for n in chart_names(job)}
    photos = _photos(job)
    drafts, plots = drafts_of(job, judgements, style)
    tree = build(
        job.survey,
        judgements,
        audience=Audience(audience),
        provenance=Provenance(__version__, os.path.basename(job.file), made_on),
        figures=Figures(
            {name: scene.description for name, scene in drawn.items()},
            {name: scene.description for name, scene in charts.items()},
            tuple(photos),
        ),
        precautions=Precautions(
            "Before going up or taking anything apart (common practice)",
            heed(job),
        ),
        check_list=_check_list(job, judgements[0]),
        drafts=drafts,
    )
    from fluewright.render.svg import to_svg

    return tree, Pictures(
        {name: to_svg(scene) for name, scene in drawn.items()},
        {name: to_svg(scene) for name, scene in charts.items()},
        photos,
        {name: to_svg(scene) for name, scene in plots.items()},
    )


def _check_list(job: Job, judgement: Judgement) -> CheckList | None:
    """The steps of the inspection that fits the survey; none where all is new."""
    from fluewright.app import steps
    from fluewright.procedure import marked
    from fluewright.report.inputs import CheckList

    if job.survey.job.doing == "new":
        return None
    fitting = steps.fitting(job.survey)
    return CheckList(fitting, marked(fitting, job.survey, judgement))


def _photos(job: Job) -> dict[str, bytes]:
    """The photos of a survey that are there; a path that leaves its folder is not followed."""
    found: dict[str, bytes] = {}
    root = os.path.realpath(job.folder)
    for photo in job.survey.photos:
        file = os.path.realpath(os.path.join(root, photo.file))
        if os.path.commonpath((root, file)) == root and os.path.isfile(file):
            with open(file, "rb") as raw:
                found[photo.file] = raw.read()
    return found


def cap_limits(one: Edition) -> CapLimits:
    """What an edition asks of a cap over a roof.

    Raises:
        BadEdition: one of the limits is not of the kind that a cap chart needs.
    """
    from fluewright.cap_place import CapLimits
    from fluewright.facts.terminal import CIRCLE_M

    pitch = one.limits["roof.pitch_height"]
    if not isinstance(pitch, StepLimit):
        raise BadEdition(f"edition {one.id}: limit roof.pitch_height is no step table.")

    def number(key: str) -> float:
        limit = one.limits[key]
        if not isinstance(limit, NumberLimit):
            raise BadEdition(f"edition {one.id}: limit {key} is no single number.")
        return limit.value

    return CapLimits(
        wall_from_m=number("cap.wall_distance_min"),
        pitch_table=tuple((bound * 12.0, height) for bound, height in pitch.rows),
        near_above_roof_m=number("cap.near_wall_above_roof_min"),
        near_above_building_m=number("cap.near_wall_above_building_min"),
        near_within_m=CIRCLE_M,
        table_up_to_m=number("cap.pitch_table_size_max"),
    )


def cap_chart_scene(job: Job, judgement: Judgement, sheet: Sheet, style: Style, name: str) -> Scene:
    """The chart of where the cap of the sheet of that name may stand, as a scene."""
    from fluewright.drawing import cap_chart, with_roof

    one = edition(judgement.edition.id)
    return cap_chart(
        job.survey,
        with_roof(job.survey, name),
        cap_limits(one),
        sheet=sheet,
        style=style,
        edition=one.title,
        version=__version__,
        stop=judgement.must_stop,
    )


def cap_chart_svg(job: Job, judgement: Judgement, sheet: Sheet, style: Style) -> str:
    """The chart of where the cap may stand, as SVG; the first where there are several."""
    from fluewright.render.svg import to_svg

    return to_svg(cap_chart_scene(job, judgement, sheet, style, sheet_names(job)[0]))
