package main

import "dullred/schedule/stock"

// stockJSON has volumes in mm³, masses in g, lengths in mm and losses as shares
// of what reaches them. With --have, finished_g and bar_length_mm are of what the
// metal gives, and scale is the factor on the length at the same sections.
type stockJSON struct {
	Volume       float64  `json:"volume_mm3"`
	Finished     float64  `json:"finished_g"`
	Cast         float64  `json:"cast_g"`
	CastLow      float64  `json:"cast_g_low"`
	CastHigh     float64  `json:"cast_g_high"`
	BarMass      float64  `json:"bar_g"`
	BarLength    *float64 `json:"bar_length_mm,omitempty"`
	BarTooThin   bool     `json:"bar_too_thin,omitempty"`
	Length       *float64 `json:"length_mm,omitempty"`
	LargestArea  *float64 `json:"largest_mm2,omitempty"`
	LargestAt    *float64 `json:"largest_at_mm,omitempty"`
	Density      float64  `json:"density"`
	DensityLow   float64  `json:"density_low"`
	DensityHigh  float64  `json:"density_high"`
	Disc         *float64 `json:"disc_mm,omitempty"`
	DiscRule     *float64 `json:"disc_rule_mm,omitempty"`
	BlankTrade   *float64 `json:"blank_trade_mm,omitempty"`
	Gap          *float64 `json:"gap_mm,omitempty"`
	Have         *float64 `json:"have_g,omitempty"`
	Scale        *float64 `json:"scale,omitempty"`
	ScaleAll     *float64 `json:"scale_all,omitempty"`
	Left         *float64 `json:"left_g,omitempty"`
	In           string   `json:"in,omitempty"`
	FinishedLow  *float64 `json:"finished_in_low,omitempty"`
	FinishedHigh *float64 `json:"finished_in_high,omitempty"`

	Losses []lossJSON `json:"losses"`
	Tangs  []tangJSON `json:"tangs,omitempty"`
}

type lossJSON struct {
	Cause string  `json:"cause"`
	Share float64 `json:"share"`
	Low   float64 `json:"share_low"`
	High  float64 `json:"share_high"`
	Basis string  `json:"basis"`
	Mass  float64 `json:"mass_g"`
}

type tangJSON struct {
	End    string  `json:"end"`
	Volume float64 `json:"volume_mm3"`
	Needs  float64 `json:"needs_mm"`
}

func (s stockSum) json() stockJSON {
	d := s.job.Density
	j := stockJSON{Volume: figure(float64(s.job.Volume)), Finished: figure(float64(s.finished())), Cast: figure(float64(s.needs.Cast)),
		CastLow: figure(float64(s.needs.CastLow)), CastHigh: figure(float64(s.needs.CastHigh)), BarMass: figure(float64(s.needs.Bar)),
		Density: figure(float64(d.Value)), DensityLow: figure(float64(d.Low)), DensityHigh: figure(float64(d.High))}
	for _, l := range s.needs.Lost {
		j.Losses = append(j.Losses, lossJSON{string(l.Cause), figure(l.Share), figure(l.Low), figure(l.High), l.Basis, figure(float64(l.Mass))})
	}
	if s.job.Bar != (stock.Section{}) {
		j.BarLength, j.BarTooThin = new(figure(float64(s.needs.BarLength))), s.tooThin()
	}
	s.piece.into(&j)
	if s.have > 0 {
		s.haveInto(&j)
	}
	if s.in != nil {
		low, high := s.in.Of(s.finished())
		j.In, j.FinishedLow, j.FinishedHigh = s.in.Name, new(figure(low)), new(figure(high))
		if !s.in.Exact {
			j.FinishedLow, j.FinishedHigh = new(s.in.Figures(low)), new(s.in.Figures(high))
		}
	}
	return j
}

// into puts in what is known of the piece alone.
func (p stockPiece) into(j *stockJSON) {
	if p.bowl != nil {
		j.Disc, j.DiscRule = new(figure(float64(p.bowl.Disc()))), new(figure(float64(p.bowl.RuleDisc())))
		return
	}
	area, at := p.shape.Largest(0, p.shape.Length())
	j.Length = new(figure(float64(p.shape.Length())))
	j.LargestArea, j.LargestAt = new(figure(float64(area))), new(figure(float64(at)))
	if p.ring != nil {
		j.BlankTrade = new(figure(float64(p.ring.TradeBlank())))
	}
	if p.inside > 0 {
		j.Gap = new(figure(float64(p.shape.GapOf(p.inside))))
	}
	for _, t := range p.shape.Tangs {
		j.Tangs = append(j.Tangs, tangJSON{t.End.String(), figure(float64(t.Volume())), figure(float64(t.Needs(p.shape.EndSection(t.End))))})
	}
}

func (s stockSum) haveInto(j *stockJSON) {
	e := s.enough
	j.Have, j.BarMass = new(figure(float64(s.have))), figure(float64(e.Bar))
	j.Scale, j.ScaleAll, j.Left = new(figure(e.Scale)), new(figure(e.ScaleAll)), new(figure(float64(e.Left)))
	if j.BarLength != nil {
		*j.BarLength = figure(float64(e.Length))
	}
}
