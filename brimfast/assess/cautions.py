"""What must be said beside the numbers: dangers of the work, and what was assumed or left out."""

from __future__ import annotations

from brimfast.assess.demand.standard import standard_of
from brimfast.assess.frame.lines import UNEXPLAINED
from brimfast.assess.parts import Resolved
from brimfast.shared.findings import Caution, Finding
from brimfast.shared.installation.model import Installation

DEFER = Caution(
    "Who decides",
    "This is advice by calculation from what the file says. A licensed structural engineer and the local building code "
    "decide; nothing here says that an installation is without risk.",
)
ALWAYS = (
    "Water in the pores of a fill moves with its vessel; water above it sloshes by Housner's equivalents, each direction "
    "by itself, in stiff upright walls. Tipping, sliding and anchors take the larger of all water rigid and "
    "sloshing with the pressure on the bottom; of the sloshing part, what floor and rack add counts only as far as a wave "
    "can rise. Racks as frames, their joints and members have all water rigid: the safe "
    "side, except where a caution says otherwise.",
    "What waves throw over a rim is a bound by geometry: the first wave at its full height as long as the strong shaking "
    "lasts. Spray, and waves that run together in a corner, are not in it.",
    "Water and fill stay for years, so they count as permanent load (load duration factor 0.9), and wood beside "
    "water counts as wet unless the file says otherwise.",
    "Component factors, friction and timber values are the table rows named in the findings.",
    "Spilled water spreads level over the free floor at once; sheets, waves on the floor and its slope are not in it. The "
    "levels of the file count as those while all runs. Water over a rim falls to the floor; a few millimetres that stand "
    "above a rim while it runs over are not counted. A pipe enters its receiver over the rim. What a fill holds back "
    "against running out is not counted. Each event runs until all is at rest, at most a week after the last supply ends.",
)
RACKS = (
    "The weight goes down by plain statics: each long side carries half; beams of one bay are simple spans, beams in "
    "one piece go by the three-moment equation. A vessel stands in the middle of the rack's width.",
    "The earthquake goes through each rack as a frame: posts hinged at the foot, joints as stiff as their "
    "fasteners' slip lets them be (EN 1995-1-1 Table 7.1), joists hinged, the deck a sheet with the shear stiffness of "
    "its material. Braces and panels were fitted to a rack that already stood, so no weight goes through them; an X, or "
    "a slender diagonal, only pulls. Beams lie in the plane of the posts. Where a frame gives way, plain statics stands in.",
    "A loose foot lifts where nothing presses it. Where one would have to hold more than its low friction, all loose "
    "feet are checked slipping, each in the measure of its load, with no more push than their high friction passes on. "
    "Joints are also checked as if the feet were kept from slipping, or held down, and by as much of the push as a rack "
    "stands before it tips: the worst of these counts. Tipping and sliding are checked as one body.",
    "Bolts play in their holes before they hold, and joints give more near their strength: both are in the sway. Joints "
    "that are not described count from very soft to very stiff. A wall tie counts from as stiff as its screw to as soft "
    "as a stud that bends, and along the wall fully or not at all, whichever is worse. Braces and panels are also checked as if "
    "the beam-to-post joints turned freely.",
    "Bolts bear with their full diameter: no more than a quarter of the bearing length may be thread.",
    "Ends of braces and of joists have their fasteners at the distances for full value (7 diameters along the grain, "
    "4 across): measure them.",
    "Where the file gives no end distance, fasteners are taken at the minimum for full value: measure it. "
    "The wood is no warmer than the file says (100 °F, 38 °C where it says nothing).",
    "Beams and joists are held upright by the deck, so they do not buckle sideways. Sideways force on joists and rails "
    "between their ends is not assessed.",
)
USUAL = (
    Caution(
        "Electricity and water",
        "Sockets, timers and power strips belong well above the depth of water shown here, on a circuit "
        "with a ground-fault (residual-current) switch. Cut the power before you step into a wet room.",
    ),
    Caution(
        "Standing beneath",
        "No bed, chair, desk or play corner beneath or beside what can fall, and no shut-off valve that can only "
        "be reached from there.",
    ),
    Caution(
        "Water that feeds people",
        "Parts that touch water for food fish or edible plants must be made for food: no treated wood, no lead "
        "solder, no bare galvanised steel in the water.",
    ),
)


def cautions(installation: Installation, resolved: Resolved) -> tuple[Caution, ...]:
    """The usual dangers, those that this installation brings with it first."""
    found = [DEFER]
    found += _required(installation)
    if any(parts.post.treated or parts.beam.treated for parts in resolved.racks.values()):
        found.append(
            Caution(
                "Treated wood and its fasteners",
                "Preservative-treated wood eats plain steel, the more so when wet: use hot-dip galvanised or stainless "
                "fasteners only. Wear a mask when you cut it, and never burn it.",
            )
        )
    if installation.racks:
        found.append(
            Caution(
                "Crushing",
                "A wet bed weighs far more than it looks. Drain and prop it before you loosen a single fastener, and keep "
                "everyone out from under it.",
            )
        )
    found += USUAL
    if installation.hung:
        found.append(_hung(installation))
    found += _below(installation)
    return tuple(found)


def _required(installation: Installation) -> list[Caution]:
    """Where what an anchor or a lid's fastening carries is only asked for."""
    required = [
        f"rack {name}" for name, rack in installation.racks.items() if rack.feet.anchored and rack.feet.required
    ]
    required += [one.name for one in installation.vessels if one.anchors is not None and one.anchors.required]
    required += [f"the lid of {one.name}" for one in installation.vessels if one.lid is not None and one.lid.required]
    if not required:
        return []
    return [
        Caution(
            "Anchors that are not yet confirmed",
            f"What the anchors of {', '.join(required)} may carry is a requirement of this calculation, not a published "
            "value: its checks say how much an anchor must be good for, not that one is. Buy by a maker's table for your slab "
            "or timber, put its values and its name in place of the required ones, and check again.",
        ),
    ]


def _below(installation: Installation) -> list[Caution]:
    """Where there is a room below."""
    found = []
    if installation.exposure.below != "none" and installation.site.height_ratio == 0:
        found.append(
            Caution(
                "Is it really on the ground?",
                "The file has a room below, yet height_ratio is 0, as on the ground. Upper floors shake harder: give the "
                "floor's height over the building's height.",
            )
        )
    if installation.exposure.below in ("other people's room", "shop or office"):
        found.append(
            Caution(
                "People below",
                "What leaves the room reaches other people. Tell landlord and insurer beforehand; the page for them says what.",
            )
        )
    return found


def _hung(installation: Installation) -> Caution:
    """A swinging thing only rises; what matters is a hanger that fails."""
    over = [thing for thing in installation.hung if thing.over is not None or thing.above_water is not None]
    named = ", ".join(thing.name for thing in over[:4]) + (" and others" if len(over) > 4 else "")
    begin = f"{named} hang{'s' if len(over) == 1 else ''} over water. " if over else ""
    return Caution(
        "What hangs over water",
        f"{begin}Swinging on all its hangers a thing only rises, but when one of two fails it drops as far as the other "
        "lets it, and it is not computed how far: take it that it reaches the water. Give each end a second wire, independent of "
        "the first, hook and hold as well. Feed lights over water only through a ground-fault (residual-current) switch, "
        "and keep plugs and sockets out of reach of swing and splash.",
    )


def beyond_stiffness(findings: list[Finding]) -> tuple[Caution, ...]:
    """Where frame and plain statics differ by more than the stiffness of the parts can explain."""
    subjects = dict.fromkeys(
        finding.subject for finding in findings if UNEXPLAINED in finding.details.get("by the frame", "")
    )
    if not subjects:
        return ()
    text = (
        f"For {', '.join(subjects)} the frame gives more than all of the push on one place would by plain statics. "
        "Parts that work against each other can do that, a mistake in the file as well: look at it with an engineer."
    )
    return (Caution("Frame and plain statics differ", text),)


def assumptions(installation: Installation, exempt: tuple[str, ...]) -> tuple[str, ...]:
    """What the calculation takes for granted, safe side where there was a choice."""
    standard = standard_of(installation.site)
    return (
        *ALWAYS,
        *standard.assumptions,
        *(RACKS if installation.racks else ()),
        *_of_parts(installation),
        *exempt,
        *_of_places(installation),
        *standard.last_assumptions,
    )


def _of_parts(installation: Installation) -> list[str]:
    """Of lids, pans, gussets, joined racks and tiers, where there are any."""
    found = []
    if any(vessel.lid is not None for vessel in installation.vessels):
        found.append(
            "A wave pushes up on a lid with the head that it would reach above it, over half of the surface, and the fastenings of "
            "that half carry it; a wave steeper than its theory covers counts as high as the water is deep. The water "
            "that a lid keeps from sloshing pushes like all water rigid. The lid itself and its rim are not checked."
        )
    if any(rack.pan is not None for rack in installation.racks.values()) or any(
        vessel.pan is not None for vessel in installation.vessels
    ):
        found.append(
            "A pan catches what runs over a rim, and what a torn seam lets out, only where it reaches as far as that can fly; what "
            "bursts, splashes, or comes off a line goes past it. What stands in a pan slides on a wet smooth bottom. Nothing "
            "else stands in a rack's pan."
        )
    if any(rack.gussets for rack in installation.racks.values()):
        found.append(
            "Gussets are stiff plates between the nails on post and beam; where beams are at the side of the posts they lie on "
            "fillers, each screwed to its post with as many screws as its leg has nails, which give as much as the nails. Nails "
            "hold in the plane of the plate only."
        )
    if any(rack.joined_to is not None for rack in installation.racks.values()):
        found.append(
            "Joined racks stand in one frame, their inner rows of posts in one plane, and tip across as one; what goes through their "
            "beams slips and holds no turn. Sliding and anchors are checked rack by rack."
        )
    if any(rack.upper_tiers for rack in installation.racks.values()):
        found.append(
            "Upper tiers are taken as built like the main deck, on posts in one piece from floor to top; the joints of the "
            "most loaded tier stand for all."
        )
    return found


def _of_places(installation: Installation) -> list[str]:
    """Of paired beams, of what hangs and of where vessels stand on a rack."""
    found = []
    if any(rack.paired for rack in installation.racks.values()):
        found.append(
            "Paired beams are taken to share their load evenly, since the file says so: without blocks that make them, the "
            "inner beam carries nearly all."
        )
    if installation.hung:
        found.append(
            "What hangs swings as a pendulum of its drop, sideways only; the vertical shaking is not in the swing. Free space "
            "is to things that stand still: a rack beside it leans as well. It counts in its rack's weight at the height "
            "from which it hangs. How rails are fastened to the posts is not assessed."
        )
    if any(vessel.on != "floor" and vessel.offset is None for vessel in installation.vessels):
        found.append("Vessels on a rack without offset stand one after the other from its left end.")
    return found
