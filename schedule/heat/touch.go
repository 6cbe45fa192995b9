package heat

import "dullred/alloys/unit"

// SafeTouch is the hottest bare metal that is safe to handle. ISO 13732-1 puts the
// burn threshold of bare metal at 51 °C for a minute's touch and at 48 °C for ten
// minutes (from memory, not looked up); the lower one is taken. Between two bodies
// that touch metal wins over skin by far: skin takes on nearly its temperature.
const SafeTouch unit.Celsius = 48
