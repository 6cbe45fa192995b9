// Package drill is a lesson at a simulated bar: a student works courses, says how many
// are left before the metal has to be annealed, and is told the truth.
//
//	l, err := drill.New(1, 7)
//	...
//	l.Strike()
//	l.Strike()
//	told := l.Say(4) // told.Truth, told.Reasons
//
// # The bar
//
// A bar of sterling is drawn out to its size by a hidden hand, log-normal from course to
// course, and each stretch between anneals splits at a hidden strain, from the Weibull
// law of the stock of the lesson. Courses give stiffer metal less, as
// [coldwork.Effort] reckons. All chances come from the seed and from nothing else, so
// that a seed is the same lesson wherever it is played, and the truth about the courses
// to come is known when it is asked for.
//
// # The heat
//
// The metal comes up to a flame and cools from it exponentially (Newton's law); how
// fast is a judgement, so that a lesson is not a lesson in waiting. It is soft when it
// was held in the published window of its anneal or above for a few seconds: above some
// 550 °C silver recrystallises in seconds (a judgement; nothing is published of how fast
// sterling softens). A heat that was too cold or too short takes out a part of the work
// and no more, and the bend check tells.
//
// Nothing here touches the record of real pieces.
package drill
