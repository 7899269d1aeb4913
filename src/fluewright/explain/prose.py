"""The words for each rule and limit, from their files."""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.errors import BadEdition
from fluewright.frozen import frozen
from fluewright.rules import RULES, needed

KEYS = ("asks", "why", "recognize", "remedy")
LIMITS = "limits"  # the table of a file that says each limit's words
Files = Mapping[str, Mapping[str, object]]


@frozen
class Prose:
    """The words for one rule, and for each limit that it uses."""

    asks: str
    why: str
    recognize: str
    remedy: str
    limits: Mapping[str, str]


def prose_from(files: Files) -> dict[str, Prose]:
    """The prose of every rule, from the parsed files.

    Args:
        files: name of each file to its parsed content.
    Returns:
        Rule id to prose, in the order of the rules.
    Raises:
        BadEdition: a rule or limit without words, an unknown or doubled one, an empty text, a
            key that is not known; every problem is listed, one a line.
    """
    problems: list[str] = []
    words = _limit_words(files, problems)
    texts: dict[str, dict[str, str]] = {}
    for file, data in files.items():
        for rule, entry in data.items():
            if rule != LIMITS:
                _add_rule(f"{file}: {rule}", rule, entry, texts, problems)
    problems += [
        f"rule {rule} has no words. Add [{rule}] with {', '.join(KEYS)}."
        for rule in RULES
        if rule not in texts
    ]
    if problems:
        raise BadEdition("\n".join(problems))
    return {
        rule: Prose(**texts[rule], limits={key: words[key] for key in found.limits()})
        for rule, found in RULES.items()
    }


def _limit_words(files: Files, problems: list[str]) -> dict[str, str]:
    known = needed().limits
    found: dict[str, str] = {}
    for file, data in files.items():
        raw = data.get(LIMITS, {})
        if not isinstance(raw, Mapping):
            problems.append(f"{file}: {LIMITS} must be a table of limit keys and their words.")
            continue
        for key, text in raw.items():
            where = f"{file}: {LIMITS}.{key}"
            if key not in known:
                problems.append(f"{where} is used by no rule. Take it out.")
            elif key in found:
                problems.append(f"{where} stands twice. Leave it in one file.")
            else:
                found[key] = text.strip() if isinstance(text, str) else ""
                if not found[key]:
                    problems.append(f"{where} is empty. Say in a few words what the figure is.")
    problems += [
        f'limit {key} has no words. Add "{key}" under [{LIMITS}].'
        for key in known
        if key not in found
    ]
    return found


def _add_rule(
    where: str,
    rule: str,
    entry: object,
    texts: dict[str, dict[str, str]],
    problems: list[str],
) -> None:
    if rule not in RULES:
        problems.append(f"{where} is not a registered rule. Correct the id or take it out.")
        return
    if rule in texts:
        problems.append(f"{where} stands twice. Leave it in one file.")
        return
    texts[rule] = {}
    if not isinstance(entry, Mapping):
        problems.append(f"{where}: a table with {', '.join(KEYS)} is expected.")
        return
    problems += [
        f"{where}.{key} is not known. Known here: {', '.join(KEYS)}."
        for key in entry
        if key not in KEYS
    ]
    for key in KEYS:
        text = entry.get(key)
        if not isinstance(text, str) or not text.strip():
            problems.append(f"{where}.{key} is missing or empty. Write one or two sentences.")
        else:
            texts[rule][key] = text.strip()
