package schedule

import _ "embed"

//go:embed safety.md
var safety string

// Safety is the safety text of the bench: torch and fire, hot metal, pickle,
// fumes, eyes, ears, flying metal, first aid, the charcoal hearth, and what the
// program cannot know. It is plain Markdown in UTF-8, no line wider than 80
// columns, ending in one newline, so that a terminal shows it as it stands.
//
// It begins with what comes before any of it: local codes, licensed or qualified
// practice and makers' data sheets. Every line that prints a figure carries its
// source as a number in square brackets, out of the list at the end of the text,
// or the words "from memory"; figures read at second hand are called secondary.
// The text is embedded from safety.md, and SAFETY.md at the top of the tree is a
// copy of it. It never changes while the program runs, and there is no error.
func Safety() string { return safety }
