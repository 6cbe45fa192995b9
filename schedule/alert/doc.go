// Package alert says what a smith must be told, and when.
//
// What is to be told is derived from states and a moment (Find); that it was
// raised and acknowledged are entries, written before anything is shown and with
// ids made from the cause, so that it is written once however often it is found:
//
//	due := alert.Find(pieces, bench, now)            // what holds now
//	raise := alert.Unraised(due, entries)            // entries to write first
//	standing := alert.Stand(due, entries, since)     // what is to be shown
//
// # Priorities
//
// There are three kinds of alert and the prompt, which is no alert: something the
// smith asked for, such as a hold that is over. An alert stands until it is
// acknowledged and what it tells of is over; a call to anneal or to quench is
// answered by the heat or the quench itself. Acknowledging silences it and never
// hides it while it still holds, and danger sounds again after two minutes.
//
// The design follows published practice for alarms: few priorities told apart by
// words and marks as well as by colour, latching, repetition by priority, and no
// more than six alerts an hour or ten in ten minutes (EEMUA 191, as quoted).
//
// # What it costs to be late
//
// Every alert knows when it became due. What is shown first long after, because
// the power was cut or the lid was closed, says how late it is.
package alert
