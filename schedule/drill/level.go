package drill

// Level is a grade of lessons.
type Level struct {
	Number   int
	Title    string
	Teaches  string
	Read     bool // sizes are read after each course; else at a heat only
	ByColour bool // the heat is judged by its colour, no thermometer
	Signs    bool // the metal is heard and felt
	Weak     bool // stock that splits early
	Cast     bool // the bar is as cast, with a small first limit
}

// Levels are the levels, easiest first.
func Levels() []Level {
	return []Level{
		{Number: 1, Title: "Count down", Read: true,
			Teaches: "How many courses the readings leave; the heat goes by a thermometer."},
		{Number: 2, Title: "By colour", Read: true, ByColour: true,
			Teaches: "The same, and the heat is judged by its colour: l puts the light out, clean silver shows none in a lit room."},
		{Number: 3, Title: "Without callipers", ByColour: true,
			Teaches: "Courses are counted and not read until the next heat."},
		{Number: 4, Title: "Weak stock", ByColour: true, Signs: true, Weak: true,
			Teaches: "The stock splits before the published limit: listen to the metal."},
		{Number: 5, Title: "As cast", ByColour: true, Signs: true, Cast: true,
			Teaches: "A casting bears little before its first heat."},
	}
}
