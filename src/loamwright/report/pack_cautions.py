"""What can hurt people and animals, as it stands in the pack; the words of docs/safety.md in short."""

from __future__ import annotations

from loamwright.report.typst_blocks import Block, Caution, Words

DECIDES = (
    "Everything in this pack is computed from the habitat file and is no survey, no certificate and no "
    "advice for your case. Local codes, licensed trades (electricity, structure, water), the makers' "
    "instructions and a veterinarian decide; where they say otherwise, they are right."
)

CAUTIONS: tuple[tuple[str, str], ...] = (
    ("Mains near water",
     "Mist, drips and wet ground reach further than planned. Residual-current protection (ground-"
     "fault protection) on every circuit of the habitat, fittings rated for the wet, drip loops in "
     "every cable, sockets and supplies above and beside the water and never below it. Unplug "
     "before you reach in. Fixed wiring is the work of a licensed electrician, to the local code."),
    ("Heat and fire",
     "Lamps, emitters and their housings burn skin and can set fire to what is near: guards where "
     "an animal can reach, porcelain holders above 60 W, the distances the maker gives. A "
     "thermostat that fails mostly fails on: use a second, independent cut-out and try it before "
     "animals move in."),
    ("Ultraviolet on eyes and skin",
     "Switch ultraviolet lamps off before you work in their light and never look into them. Lamps "
     "that give off short waves (below about 280 nm) do not belong over people or animals. Old "
     "tubes look as bright as new ones: write down their hours, measure, replace."),
    ("Glass",
     "Carry panes with two people, gloves and closed shoes. Toughened or laminated glass where "
     "someone can fall against it. Sharp edges are ground before doors are hung; children do not "
     "hang on doors."),
    ("Weight, lifting, tipping",
     "Wet ground weighs as much as water or more, stone more than twice as much. Lift with enough "
     "people, fill the habitat where it stands, keep it from tipping as the section on loads says. "
     "Ask a structural engineer where the floor is old, the load large or the stand not rated."),
    ("Saws, dust, tools",
     "Eyes, ears and lungs are protected while boards, foam and mesh are cut; mesh edges are "
     "folded or framed. Dust of moss and dry ground is damped before it is handled."),
    ("Adhesives, foams, coatings",
     "Air the room, wear what the label says. Acetoxy silicone gives off acetic acid while it "
     "cures: about 7 days to full cure, up to 14 for thick beads or in the cold; foam and thick "
     "seams 7 to 14 days, then a week of running ventilation and mist; varnishes and resins as "
     "their makers say (usual figures, from memory). No smell may be left when animals move in."),
    ("Salmonella and other germs",
     "Healthy reptiles and amphibians may carry Salmonella; their droppings contaminate the animal "
     "and all it touches. They are not suited to homes or rooms with children under 5, adults over "
     "65 or people with weak immunity. Wash hands with soap and running water after touching "
     "animals, food, water or habitat; adults watch children do it. Keep animals and equipment out "
     "of kitchens; no eating, drinking or kissing beside them (US Centers for Disease Control and "
     "Prevention). Where the public comes near, washing facilities are part of the plan. Warm "
     "water that stands in tanks can make people ill: empty what has stood for three days (from "
     "memory)."),
    ("Plants",
     "Lists of toxic plants are made for mammals; not known is not harmless. Ask your "
     "veterinarian, above all for animals that eat leaves. Wash bought plants and let pesticides "
     "wear off; wear gloves when cutting, many saps irritate."),
    ("Animals and the law",
     "Many species need papers, registration or a licence; plants, soil and what lives in it may "
     "not cross some borders. Nothing is ever released, also not with waste. New animals are "
     "quarantined; how long, the veterinarian says. Ask the authority before buying or shipping."),
    ("If something happens",
     "Electric shock, burn, cut, bite, ultraviolet burn of the eye: emergency services or a doctor "
     "first. An animal that is limp, burnt, or closes its eyes under a new lamp: lamp off, then "
     "call a veterinarian."),
)  # fmt: skip
"""Title and words of each caution."""


def caution_blocks() -> tuple[Block, ...]:
    """Who decides, then each caution."""
    return (Words(DECIDES, "lead"), *(Caution(title, text) for title, text in CAUTIONS))
