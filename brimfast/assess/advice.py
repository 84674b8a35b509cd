"""What kind of measure would help with what is short or close? Ranking by effect is not done here."""

from __future__ import annotations

from brimfast.shared.findings import Advice, Finding
from brimfast.shared.installation.model import Installation

# By advice key of the finding: measures with their reason, the plainest first.
MEASURES: dict[str, tuple[tuple[str, str], ...]] = {
    "tipping": (
        ("tie it to the wall studs high up", "a tie above the middle of its height stops tipping before it starts"),
        ("anchor its feet to the floor", "anchors hold down the side that wants to lift"),
        ("lower the water or the deck", "less weight, lower down, makes a smaller tipping moment"),
    ),
    "sliding": (
        ("fix it to the floor, or set it in a curb", "friction may be lower than hoped on a wet floor"),
        ("make its pipes flexible", "a body that can slide a hand's width must not tear its pipes"),
    ),
    "sway": (
        ("cross bracing on the faces that sway", "a braced face sways a tenth as far as one held by its joints alone"),
        ("keep a hand's width to walls and things beside it", "what sways must not knock"),
    ),
    "deck square": (
        (
            "a plywood deck nailed to joists and beams all round",
            "nailed plywood keeps a deck square, loose boards do not",
        ),
    ),
    "feet": (
        (
            "a sill that ties the feet of each side together, anchored",
            "a foot under a brace is pushed aside and lifted",
        ),
        ("anchor its feet to the floor", "anchors hold down the side that wants to lift"),
    ),
    "pipes": (
        (
            "a flexible piece in each pipe that leaves the rack",
            "a stiff pipe tears where the rack sways and the tank does not",
        ),
    ),
    "attachment": (
        (
            "anchors or straps, by an engineer's detail",
            "the code wants a fastening that does not rely on friction from the weight",
        ),
    ),
    "anchors": (
        ("more or larger anchors", "the load on each is more than its published value"),
        ("lower the water or the deck", "less weight, lower down, pulls less on the anchors"),
    ),
    "anchor value": (
        (
            "ask the anchor's maker for its published tension and shear values",
            "without them the anchor is not assessed",
        ),
    ),
    "joint gravity": (
        ("through-bolts with washers at the posts", "a half-inch bolt carries several times a screw, and for years"),
        (
            "set the beams on top of the posts, or on blocks bolted below them",
            "wood on wood carries the weight, not screws",
        ),
        ("lower the water or the fill", "the joint carries the weight day and night"),
    ),
    "joint earthquake": (
        ("cross bracing on both long faces", "a brace takes the sideways force that now bends the joints"),
        ("through-bolts far apart in the beam's depth", "a wider pair of bolts holds the post's turning better"),
    ),
    "joint across": (
        ("through-bolts with washers at the posts", "a half-inch bolt carries several times a screw, and for years"),
        ("lower the water or the fill", "the joint carries the weight and the tipping couple"),
    ),
    "joist gravity": (
        ("framing ties under the joist ends", "a bent steel tie carries the joist from below"),
        ("closer joists", "each then carries less"),
    ),
    "brace joint": (
        ("a through-bolt at each end of the braces", "the joint, not the brace, gives way first"),
        ("more braced bays", "each brace then carries less"),
    ),
    "leaning across": (
        (
            "cross bracing or a plywood panel on both short ends",
            "nothing else in the file stops the posts from folding over",
        ),
        ("a tie to the wall studs at deck height", "it holds the top while the feet stand"),
    ),
    "leaning along": (
        (
            "cross bracing or a plywood panel on front and back",
            "nothing else in the file stops the posts from folding over",
        ),
        ("a tie to the wall studs at deck height", "it holds the top while the feet stand"),
    ),
    "brace timber": (
        (
            "an X of two braces, bolted together where they cross",
            "one of the two always pulls, and neither has to push",
        ),
        ("a thicker brace, or more braced bays", "the timber gives way by buckling or at its hole"),
    ),
    "hold-down": (
        ("hold-downs or anchors at the panels' end posts", "a panel that is pushed sideways lifts its end"),
        ("longer panels, or one more bay", "a longer panel lifts less at its ends"),
    ),
    "panel": (("a thicker panel, closer nails, or one more bay", "the nails along its edges carry it"),),
    "wall": (
        ("more ties, each into the middle of a stud", "only thread in solid wood holds"),
        ("find the studs first", "gypsum board holds nothing"),
    ),
    "distances": (
        (
            "thinner fasteners, or members wide enough for them",
            "too near an edge or end the wood splits before it holds",
        ),
        (
            "let the beam run over the post in one piece",
            "two beam ends on one post leave each fastener too little wood",
        ),
    ),
    "deck": (("closer joists, or a thicker panel", "the deck spans less, or is stronger"),),
    "joists": (("closer or deeper joists", "each then carries less, or more"),),
    "beams": (
        ("a post in the middle of the span", "half the span leaves a quarter of the bending"),
        ("deeper beams", "stiffness and strength grow fast with depth"),
    ),
    "member sag": (("a shorter span or a deeper member", "wet wood under a lasting load sags to twice and more"),),
    "posts": (
        ("set the beams on top of the posts", "a beam at its side bends the post all the time"),
        ("thicker posts", "they bend and buckle later"),
    ),
    "bed sides": (
        ("ties across the bed, from side to side", "twice the ties leave a quarter of the bending"),
        ("thicker sides", "wet fill pushes outwards for years"),
    ),
    "swing": (
        ("shorter chains", "a shorter pendulum swings less far"),
        (
            "two wires slantwise to each side, or one to each corner",
            "held from both sides it cannot swing",
        ),
        ("move it away from what it could hit", "glass and lamps break at a light knock"),
    ),
    "hangers": (
        (
            "a second hanger of its own at each end: chain or wire, its own hook, its own hold",
            "one that fails must not let it fall into the water",
        ),
        ("closed hooks, screwed into the middle of solid wood", "an open hook lets go when the chain goes slack"),
    ),
    "rails": (
        ("a thicker rail, or one more post under it", "the rail bends both down and sideways"),
        ("hang it near the posts", "what hangs beside a post hardly bends the rail"),
    ),
    "describe hung": (
        (
            "measure how far it may swing, and ask the maker what one hanger may carry",
            "what is not in the file is not checked",
        ),
    ),
    "describe joint": (
        (
            "look at the joint, count and measure its fasteners, add them to the file",
            "what is not described is not checked",
        ),
    ),
    "describe timber": (
        (
            "read size, species and grade off the stamp on the wood, add them to the file",
            "what is not described is not checked",
        ),
    ),
    "floor": (
        ("spread the load: planks under the feet, across the joists", "a joist floor carries a spread load better"),
        ("move it to a bearing wall or the ground floor", "floors are strongest beside their supports"),
        (
            "lower the water",
            "every inch of water weighs 5.2 pounds on a square foot (1 cm weighs 10 kg on a square metre)",
        ),
    ),
    "floor of concrete": (
        ("plates under the feet, or a sill under each row of posts", "a slab carries a spread load better"),
        (
            "lower the water",
            "every inch of water weighs 5.2 pounds on a square foot (1 cm weighs 10 kg on a square metre)",
        ),
    ),
    "floor slab": (
        ("find out the slab's thickness, or ask who built it", "then an engineer can say what a post may put on it"),
    ),
    "slosh": (
        ("lower the water, or raise the rim", "a wave that stays below the rim spills nothing"),
        (
            "upright boards across it, under water as well",
            "half the free length makes half the wave, and a quicker one",
        ),
        ("a lid or a net that is held down", "it throws the crest back"),
    ),
    "joined": (
        ("more through-bolts between the two racks", "they lean on each other by these"),
        ("braces or a panel in both racks", "what does not sway by itself pulls less on its neighbour"),
    ),
    "gusset": (
        ("longer legs with more nails", "the nails share the turn over a longer lever"),
        ("thicker plywood, or knees, braces or a panel in their place", "they stiffen the rack more"),
    ),
    "pan": (
        ("a larger or higher pan", "it holds more before it runs over"),
        ("a float switch on the pump", "less comes"),
    ),
    "spill": (
        ("a curb at the door, or a higher sill", "the room holds more before it leaves"),
        ("a floor drain, or a larger one kept clean", "it takes what keeps flowing"),
        (
            "a float switch on the pump and an anti-siphon hole in its pipe",
            "they stop water moving from vessel to vessel",
        ),
        ("a higher pump intake", "what the pump cannot reach it cannot spill"),
    ),
    "spill earthquake": (
        ("a curb at the door, or a higher sill", "the room holds more before it leaves"),
        ("first keep the vessels standing: see stability and joints", "what does not fall does not spill"),
        ("a shut-off on the supply that closes by itself", "a torn line otherwise runs until someone comes"),
    ),
    "returns": (
        ("a wider return, or a second one", "what the pumps bring has to run back by itself"),
        ("a smaller pump", "it brings more than can run back"),
    ),
    "socket": (("sockets and power strips higher up on the wall", "water on the floor reaches them first"),),
    "line speed": (
        ("a wider pipe, or a second line beside it", "at the same flow twice the bore has a quarter of the speed"),
    ),
    "line head": (
        ("a pump that lifts higher, or a lower outlet", "at its greatest head a pump moves nothing"),
        ("a wider, shorter pipe with fewer bends", "less head is lost on the way"),
    ),
    "line clogs": (("a wider line and a strainer before it", "what grows in the water soon closes a narrow one"),),
    "return": (
        ("a second outflow, or a wider one", "what runs in must run out even when one clogs"),
        ("throttle the pump or its flow", "less then has to run out"),
    ),
    "outflow": (("outflows of 2 in, with a strainer that can be reached", "leaves and roots close a narrow one"),),
    "drain": (
        ("a floor drain, or a larger one kept clean", "the inflow is more than the drains take at the sill's height"),
        ("a smaller pump or a flow limiter on the supply", "less can arrive than the drain takes away"),
    ),
}


BOLTS = ("through-bolts with washers at the posts", "a through-bolt at each end of the braces")
NEEDS_PUMP = ("float switch", "pump intake", "smaller pump")
NEEDS_SUPPLY = ("supply",)


def advise(findings: list[Finding], installation: Installation) -> tuple[Advice, ...]:
    """Measures for what is short or close, and for what is not described; each once per subject.

    A measure for a pump or a supply that the installation does not have is left out, and what is already
    there is named as more of it.
    """
    order: list[tuple[str, str]] = []
    reasons: dict[tuple[str, str], str] = {}
    served: dict[tuple[str, str], list[str]] = {}
    on_rack = {vessel.name for vessel in installation.vessels if vessel.on != "floor"}
    bolted = {
        f"rack {joint.rack}, {joint.where}" for joint in installation.joints if joint.fasteners.kind == "through-bolt"
    }
    for finding in findings:
        asks = finding.verdict in ("short", "close") or finding.advice_key in (
            "describe joint",
            "describe timber",
            "describe hung",
            "anchor value",
            "hold-down",
        )
        if not asks or finding.advice_key not in MEASURES:
            continue
        key = finding.advice_key
        if key == "floor" and installation.room.floor.kind != "timber floor":
            key = "floor of concrete"
        for measure, reason in MEASURES[key]:
            if any(word in measure for word in NEEDS_PUMP) and not installation.pumps:
                continue
            if any(word in measure for word in NEEDS_SUPPLY) and not installation.supplies:
                continue
            if finding.subject in bolted and measure in BOLTS:
                measure, reason = (
                    "more through-bolts, where edges and ends leave room",
                    "those that are there carry too much",
                )
            if finding.subject in on_rack:
                measure = measure.replace("to the floor", "to the deck")
            one = (measure, finding.subject)
            if one not in served:
                order.append(one)
                reasons[one] = reason
                served[one] = []
            served[one].append(finding.id)
    return tuple(Advice(*one, reasons[one], tuple(served[one])) for one in order)
