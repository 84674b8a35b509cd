"""What it may cost against what the file sets against it: a matter of money, not of danger."""

from __future__ import annotations

from brimfast.assess.exposure.assess import Affected, Exposed
from brimfast.assess.exposure.costs import GIVEN, PLANNING, sum_step
from brimfast.assess.exposure.wetted import BELOW, HERE
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import money, money_kind, money_range

TOPIC = "exposure"
NAMES = {"single": "the worst single mishap", "earthquake": "the worst one earthquake can do"}
ASK = "whether a policy pays for it is not said here: ask your insurer"


def exposure_findings(exposed: Exposed, installation: Installation) -> list[Finding]:
    """Of each event: the cost to others against the liability limit, this storey against the deposit, contents."""
    found = []
    for one in exposed.floods:
        found.append(_liability(one, exposed, installation))
        if installation.exposure.deposit is not None:
            found.append(_deposit(one, exposed, installation.exposure.deposit))
        if installation.exposure.contents is not None or installation.exposure.contents_limit is not None:
            found.append(_contents(one, exposed, installation))
    return found


def _basis(exposed: Exposed) -> str:
    return PLANNING if exposed.planned else GIVEN


def _details(one: Affected, exposed: Exposed) -> dict[str, str]:
    details = {"event": one.text}
    for storey in (HERE, BELOW):
        sums = one.on(storey)
        if sums is not None and one.area(storey) > 0:
            details[storey] = money_range(sums[0], sums[1], exposed.currency)
    return details


def _answer(
    what: str,
    one: Affected,
    exposed: Exposed,
    question: str,
    demand: float | None,
    capacity: float | None,
    dearest: float | None,
    basis: str,
    reason: str,
    steps: tuple[Step, ...],
    values: tuple[Value, ...],
) -> Finding:
    """A finding of money; where published figures disagree on which side of the limit it lies, not assessed."""
    id, subject = f"exposure/{one.id}/{what}", NAMES.get(one.id, one.id)
    quantity, details = money_kind(exposed.currency), _details(one, exposed)
    if demand is not None and capacity is not None and dearest is not None and demand <= capacity < dearest:
        reason = (
            f"planning figures stay below {money(capacity, exposed.currency)}, the dearest published ones come to "
            f"{money(dearest, exposed.currency)}: put local quotes into the file (costs, costs_below)"
        )
        capacity = None
    if demand is None or capacity is None:
        return not_assessed(
            id,
            TOPIC,
            subject,
            question,
            quantity,
            reason,
            basis,
            demand=demand,
            steps=steps,
            values=values,
            details=details,
            practice=True,
        )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        demand,
        capacity,
        quantity,
        basis,
        reason="the file gives less than it may cost" if demand > capacity else "",
        steps=steps,
        values=values,
        details=details,
        practice=True,
    )


def _liability(one: Affected, exposed: Exposed, installation: Installation) -> Finding:
    """Every wetted floor counts as somebody else's: the file does not say whose each is, and this is the safe side."""
    limit = installation.exposure.liability_limit
    return _answer(
        "liability",
        one,
        exposed,
        "Is the high cost of all wetted floors within the liability limit?",
        one.high,
        limit,
        one.dearest,
        f"{_basis(exposed)}; every wetted floor taken as another's (landlord, neighbour, below); {ASK}",
        one.why or "no liability_limit is given to compare with: ask your insurer",
        (*one.steps, *one.bound_steps),
        one.values,
    )


def _deposit(one: Affected, exposed: Exposed, deposit: float) -> Finding:
    sums = one.on(HERE)  # low, high, dearest
    lines = [line for line in one.steps if line.symbol.startswith("C_high_") and line.note.startswith(HERE)]
    return _answer(
        "deposit",
        one,
        exposed,
        "Is the high cost of this storey below the deposit?",
        sums[1] if sums is not None else None,
        deposit,
        sums[2] if sums is not None else None,
        f"{_basis(exposed)}; the rented rooms on this storey, without what is below",
        one.why,
        (*lines, sum_step("C_high_rooms", lines, exposed.currency, HERE)) if lines else (),
        one.values,
    )


def _contents(one: Affected, exposed: Exposed, installation: Installation) -> Finding:
    """All that stands on the wetted floors is taken as lost: no more than it is worth can be."""
    worth, limit = installation.exposure.contents, installation.exposure.contents_limit
    key = "contents" if worth is None else "contents_limit"
    return _answer(
        "contents",
        one,
        exposed,
        "Is what stands on the wetted floors worth less than the contents limit?",
        worth,
        limit,
        None,
        f"the worth that the file gives, all of it taken as lost; {ASK}",
        f"no {key} is given",
        (),
        (),
    )
