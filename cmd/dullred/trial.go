package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dullred/schedule/trial"
)

// mostTrial is the largest number of pieces of a trial; it takes some minutes.
const mostTrial = 200_000

// trialFlags is what trial was given.
type trialFlags struct {
	good   bool
	pieces int
	seed   uint64
}

func (a *app) trialCommand() *cobra.Command {
	usual := trial.Usual()
	f := trialFlags{pieces: usual.Pieces, seed: usual.Seed}
	cmd := &cobra.Command{
		Use:   "trial",
		Short: "what the advice is worth in a simulated shop, against the fixed rules of the trade",
		Long: `A simulated shop works the same pieces by every rule: anneal after so many courses,
at a measured reduction, or when dullred says so. It shows how many pieces in 1,000
split for how many heats each. Nothing of it was measured in a real shop: it says what
the advice is worth if metal behaves so. "A stock never seen" goes by the published
limit: a well-chosen fixed rule is hard to beat there. The rows with intervals have
learned the limit of the stock from the record, or from test pieces of it.`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error { return a.trial(f) },
	}
	cmd.Flags().BoolVar(&f.good, "good", false, "a shop whose stock splits later than the published limit would have it")
	cmd.Flags().IntVar(&f.pieces, "pieces", f.pieces, "`NUMBER` of pieces")
	cmd.Flags().Uint64Var(&f.seed, "seed", f.seed, "`NUMBER` that the chances come from: the same one gives the same shop")
	return cmd
}

func (a *app) trial(f trialFlags) error {
	shop := trial.Usual()
	if f.good {
		shop = trial.Good()
	}
	if f.pieces < shop.Hands || f.pieces > mostTrial {
		return refuse(fmt.Sprintf("give %d to %d with --pieces", shop.Hands, mostTrial), "%d pieces make no trial", f.pieces)
	}
	shop.Pieces, shop.Seed = f.pieces, f.seed
	r := trial.Run(shop)
	if len(r.Policies) == 0 {
		return errors.New("the shop of the trial makes no sense")
	}
	return a.answer(r, r.Table()+"\n"+r.Plot())
}
