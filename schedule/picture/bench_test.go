package picture_test

import (
	"testing"

	"dullred/schedule"
	"dullred/schedule/picture"
)

// long is a piece of two hundred courses with forty heats in three zones.
func long() *telling {
	s := piece(rod("tip", "middle", "butt"))
	for i := range 40 {
		for range 5 {
			s.by(kw, to(8))
		}
		s.fire(kw)
		if i%2 == 0 {
			s.by(kw, schedule.Soft{})
		}
	}
	return s
}

// BenchmarkStory replays that piece.
func BenchmarkStory(b *testing.B) {
	s := long()
	for b.Loop() {
		s.story()
	}
}

// BenchmarkPictures draws each picture of that piece in each format.
func BenchmarkPictures(b *testing.B) {
	story := long().story()
	for name, f := range map[string]picture.Figure{"limit": story.Strain(), "hardness": story.Hardness(), "shape": story.Shape()} {
		b.Run(name+"/svg", func(b *testing.B) {
			for b.Loop() {
				picture.SVG(f)
			}
		})
		b.Run(name+"/png", func(b *testing.B) {
			for b.Loop() {
				if _, err := picture.PNG(f); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/text", func(b *testing.B) {
			for b.Loop() {
				picture.Text(f, picture.Terminal{Columns: 78})
			}
		})
	}
}
