// Package view draws what the smith sees, as cells in memory.
//
// It is pure: a Scene, which holds all that is to be shown, goes in, and a Frame
// of cells comes out. Nothing here knows a terminal, a clock or a record, so that
// every state of the bench can be looked at in a test. A Frame has runes and
// roles; which colours a role has, and how it is told apart without any, is the
// business of a Theme.
//
// The page for two metres (Distance) has one word in block letters, one figure or
// count-down in block numerals, a gauge of the limit spent with the courses left
// marked on it, and the one next key. Ordinary text on it is for the reader at
// half a metre. The other pages (Near, Keys, Cautions) are read close.
//
// Numeral rows, contrast and flash rates follow published figures, named beside
// the constants and tested.
package view
