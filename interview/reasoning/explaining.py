"""Why this, why not that, what if: answered from the plan's own findings, each with its basis."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from interview.plan.model import Plan
from interview.plan.parts import Basis, Finding, Treatment

_NOT = re.compile(r"^why\s+(?:not|no|can'?t i|shouldn'?t i)\s+(?:just\s+|a\s+|use\s+|the\s+)*(?P<what>.+?)\W*$")
_COATS = re.compile(r"^why\s+(?:so many|\w+)\s+(?:light\s+)?coats?\W*$")
_WHY = re.compile(r"^why\s+(?P<what>.+?)\W*$")
_IF = re.compile(r"^what\s+(?:if|about)\s+(?:i\s+)?(?:just\s+|only\s+|use\s+)*(?P<what>.+?)\W*$")
_METHODS = {"brush": ("brush", "roller", "sponge", "paint it"), "spray": ("spray", "aerosol", "can")}


def explain(asked: str, plan: Plan) -> str | None:
    """The answer to "why not brush?", "why two coats?", "why seal the back?", or None if it is no such question."""
    text = " ".join(asked.casefold().split())
    match = _NOT.match(text)
    if match:
        return _why_not(match["what"], plan)
    if _COATS.match(text):
        return _why_coats(plan)
    match = _WHY.match(text)
    return _why(match["what"], plan) if match else None


def asked_what_if(asked: str) -> str | None:
    """ "what if I spray?" -> "spray"; "what if I brush it" -> "brush"; None if it is no such question."""
    match = _IF.match(" ".join(asked.casefold().split()))
    return _method(match["what"]) if match else None


def _method(words: str) -> str | None:
    for method, names in _METHODS.items():
        if any(re.search(rf"\b{name}", words) for name in names):
            return method
    return None


def _why_not(what: str, plan: Plan) -> str:
    method = _method(what)
    sealers = _sealers_named(what, plan)
    if method is None and not sealers:
        if re.search(r"seal|nothing|pour|leave it|skip", what):
            return _why("seal", plan) or "Nothing here needs a seal."
        return f"I know of no '{what}' here. Ask about brush, spray, or one of: {', '.join(_all_sealers(plan))}."
    if sealers:
        found = [(b.zone, f) for b in plan.barred if b.sealer in sealers for f in b.findings]
    else:
        found = [(n.zone, f) for n in plan.no_ways if n.method == method for f in n.findings]
    used = [t for t in plan.treatments if t.method == method or t.sealer in sealers]
    lines = _grouped([(z, f) for z, f in found if f.rule not in _ABOUT_PURPOSE], plan)
    lines += [_used(used, plan)] if used else []
    return "\n".join(lines) or "Nothing stands against it here; another sealer simply fits better."


def _grouped(found: Sequence[tuple[str, Finding]], plan: Plan) -> list[str]:
    """One line a rule, with the zones it is about."""
    zones: dict[str, list[str]] = {}
    says: dict[str, Finding] = {}
    for zone, finding in found:
        says.setdefault(finding.rule, finding)
        zones.setdefault(finding.rule, []).append(plan.zone(zone).name)
    return [f"{f.says} ({_names(zones[rule])}; {basis_words(f.basis)})" for rule, f in says.items()]


_ABOUT_PURPOSE = ("no_barrier", "does_not_tack", "lets_air_through", "kept_elsewhere")


def _used(treatments: Sequence[Treatment], plan: Plan) -> str:
    parts = [f"{t.name} for {_names([plan.zone(z).name for z in t.zones])}" for t in treatments]
    return f"It is used: {'; '.join(parts)}."


def _sealers_named(what: str, plan: Plan) -> set[str]:
    words = set(re.findall(r"[a-z]{4,}", what)) - {"spray", "brush", "sealer", "coat"}
    return {b.sealer for b in plan.barred if words & set(b.sealer.split("_"))}


def _all_sealers(plan: Plan) -> list[str]:
    return list(dict.fromkeys([b.sealer.replace("_", " ") for b in plan.barred] + [t.name for t in plan.treatments]))


def _why_coats(plan: Plan) -> str:
    lines = [f"{t.name}: {f.says} ({basis_words(f.basis)})" for t in plan.treatments for f in t.findings]
    return "\n".join(dict.fromkeys(lines)) or "Nothing is coated before the resin here."


def _why(what: str, plan: Plan) -> str | None:
    """The findings behind a zone named in the words, or behind all that is sealed."""
    zones = [z for z in plan.zones if _named(what, z.name) or _named(what, z.what)]
    tests = [f"{t.name}: {t.says} ({basis_words(t.basis)})" for t in plan.trials if _named(what, t.name)]
    if tests and not zones:
        return "\n".join(tests)
    if not zones and not re.search(r"\bseal|\bcoat|\btreat|\bspray|\bbrush|\btrial|\btest", what):
        return None
    ids = {z.id for z in zones}
    lines = []
    for v in plan.verdicts:
        if (ids and v.zone in ids) or (not ids and v.need in ("must not", "required", "advised")):
            lines += [
                f"{plan.zone(v.zone).name}, {v.reason}, {v.need}: {f.says} ({basis_words(f.basis)})" for f in v.findings
            ]
    return "\n".join(x[:1].upper() + x[1:] for x in dict.fromkeys(lines + tests)) or None


def _named(what: str, name: str) -> bool:
    words = set(re.findall(r"[a-z]{3,}", name.casefold())) - {"the", "and", "paper", "between"}
    return bool(words & set(re.findall(r"[a-z]{3,}", what)))


def _names(zones: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(zones))


def basis_words(basis: Basis) -> str:
    """ "common practice", or the source and where in it."""
    return f"{basis.source}, {basis.locator}" if basis.kind == "published" else basis.kind
