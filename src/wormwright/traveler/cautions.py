"""Cautions for hands and eyes, each in one sentence, as the operations print them."""

POWER = "Isolate the power and keep the plug with you before hands go near worm, wheel or coupling."
BACK_DRIVING = (
    "Self-locking is never a brake: take chuck, work and every unbalanced load off the table "
    "before the worm leaves the mesh; the table is then free to swing."
)
PINCH = "Worm and wheel draw in fingers and rags: turn by hand, with nothing near the mesh."
LIFTING = "Lift with a hoist or a second person, and set the unit where it cannot tip or roll."
ROTATING = (
    "Turning work takes hold of gloves, sleeves and hair: none of them near it, chuck key out, "
    "guard shut."
)
SWARF = "Swarf cuts: brush, never fingers or an air line, and eye protection on."
CHUCK = (
    "Work set off centre is out of balance: start slow, add a counterweight, stay below the speed "
    "marked on the chuck, and stand clear of its plane; an overspun or cracked chuck can burst."
)
SOLVENT = (
    "Solvent: open air, gloves, no flame; keep oil-filled bushes out of it, it takes their oil."
)
GRIT = "Grinding dust or lapping paste left in will cut the new mesh: clean before closing."
OIL = (
    "A bronze wheel wants a compounded oil that is safe for yellow metal; sulphur-phosphorus EP "
    "and hypoid oils attack it when warm."
)
HOT = "Motor and housing may be hot after the run: feel with the back of the hand first."
UNBALANCED = (
    "Run with the table bare: self-locking is never a brake, and an unbalanced load can drive the "
    "worm backwards when it runs warm."
)
