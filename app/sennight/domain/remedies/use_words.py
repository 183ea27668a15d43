"""How each form is used, in a client's words.

Where each comes from stands beside it; "common practice" is the trade's habit, and publications
named without a "read" mark are quoted from memory.
"""

from __future__ import annotations

# Patch test: secondary pages (read). Hand washing and eye rinsing: capsaicin topical, health
# library (read). Intact skin: Commission E on comfrey, arnica (read). External use only: SUSMP
# Appendix L as summarised by WA Health (read).
EXTERNAL = "For external use only."
PATCH_TEST = (
    "Patch test first: rub a little on the inside of your forearm and leave it for 24 to "
    "48 hours. Do not use it if the skin turns red, itches, swells or blisters. If it stays "
    "clear, you could still react later."
)
UNBROKEN = "Use it on unbroken skin only: never on broken, sore or inflamed skin."
WASH_HANDS = (
    "Wash your hands with soap at once afterwards. If your hands are the part treated, wait "
    "30 minutes and then wash them."
)
EYES = (
    "Keep it away from eyes, nose and mouth. If it gets into an eye, rinse with plenty of "
    "water, and see a doctor if it still hurts."
)
NO_HEAT = (
    "No heat pad or tight bandage over it, and no bath or shower for an hour before or after."
)
ON_SORE_SKIN = (
    "Use it on unbroken skin. On sore or inflamed skin use it only where we agreed, and never "
    "on an open wound."
)
NO_BANDAGE = "No heat pad or tight bandage over it."
"""What is bland may go on after a bath, as in eczema; common practice."""
ON_SKIN = (EXTERNAL, PATCH_TEST, UNBROKEN, WASH_HANDS, EYES, NO_HEAT)

# Common practice; a thin layer and a clean finger or spatula keep germs out of a jar.
SPREAD = (
    EXTERNAL,
    "Take a little out with a clean finger or spatula, and rub in a thin layer.",
    PATCH_TEST,
    ON_SORE_SKIN,
    WASH_HANDS,
    EYES,
    NO_BANDAGE,
)
COMPRESS = (
    EXTERNAL,
    PATCH_TEST,
    (
        "Let it cool until it is warm to the inside of your wrist. Soak a clean cloth in it, "
        "wring it out and lay it on for 15 to 20 minutes. Make it fresh each time."
    ),
    ON_SORE_SKIN,
    EYES,
)
# EMA monographs on herbs for baths (lavender oil, pine): 35 to 38 °C, 10 to 20 minutes, and who
# should not bathe so; from memory.
BATH = (
    EXTERNAL,
    "Pour it into a bath of 35 to 38 °C, and stay in for 10 to 20 minutes.",
    (
        "No such bath with open wounds, large skin injuries, a fever or an infection, or if you "
        "have a weak heart or poor circulation, unless your doctor agrees."
    ),
    "Get out slowly: the bath may be slippery, and you may feel light-headed.",
)

# EMA monographs on sage, chamomile and myrrh for the mouth and throat, from memory; children
# who cannot rinse without swallowing: common practice.
GARGLE = (
    (
        "Let it cool until it is warm. Gargle with it for about half a minute, then spit it out. "
        "Do not swallow it."
    ),
    "Make it fresh each day.",
)
MOUTHWASH = (
    (
        "Stir it into half a glass of warm water, swill it round your mouth for about half a "
        "minute, then spit it out. Do not swallow it."
    ),
)

# EMA monographs on chamomile, eucalyptus and thyme for steam, from memory. Scalds, above all of
# children: advice of UK burns units and the NHS, from memory; that it is not for a child under 12
# is a finding, so that no schoolchild's own sheet says so against what was agreed.
STEAM = (
    (
        "Put the bowl on a firm table, wait a minute, and bend over it with a towel over your "
        "head. Close your eyes and breathe in the steam for 5 to 10 minutes."
    ),
    "The water scalds: do not carry the bowl, and keep small children and pets away from it.",
    "Never for small children. With asthma only if we agreed it.",
    "Stop if you wheeze or feel dizzy.",
    "Do not drink it. Make it fresh each time.",
)

# In a sentence, for a reminder; each is the sheet's, shorter.
IN_WATER = "Take in a little water."
WITH_WATER = "Swallow with a full glass of water."
NEVER_DRY = "Stir it in well: never swallow it dry."
RUB_IN = "Rub in a thin layer, on unbroken skin only, and wash your hands afterwards."
NOT_TO_DRINK = "Wait a minute, breathe in the steam with your eyes closed, and do not drink it."
SPIT_OUT = "Spit it out afterwards: do not swallow it."

# Common practice.
TINCTURE = (
    "Measure each dose with the measure that came with it.",
    "Shake the bottle first. Take the dose in a little water.",
    "If you avoid alcohol for any reason, tell us before the first dose.",
)
GLYCERITE = (
    "Measure each dose with the measure that came with it.",
    "Shake the bottle first. Take the dose as it is, or in a little water.",
)
SYRUP = (
    "Measure each dose with the measure that came with it.",
    "Shake the bottle first, and keep its rim clean.",
    "It contains sugar: rinse your mouth with water afterwards.",
)
JUICE = (
    "Shake the bottle first. Measure each dose, and take it in a little water.",
    "Keep it in the fridge. Do not use it if it smells or tastes sour, or fizzes.",
)
# Patient-leaflet convention for the gullet; common practice.
SWALLOWED_WHOLE = "with a full glass of water, sitting or standing."
CAPSULE = (f"Swallow capsules whole, {SWALLOWED_WHOLE}",)
TABLET = (f"Swallow tablets {SWALLOWED_WHOLE}",)
# A dry powder can make one cough, and some swell in the gullet (EMA monographs on mucilaginous
# seeds, warning sections, from memory).
POWDER = ("Level the spoon, or weigh each dose. Never swallow it dry.",)
PRODUCT = ("Take it as its packet says, unless this sheet says otherwise. Keep the packet.",)
