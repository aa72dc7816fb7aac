package evidence

import (
	"math"
	"slices"
	"strings"
)

// A Bank is a model made ready: every draw on the scale of its instrument, every
// hypothesis with the kernel that fills the room between its draws. It does not
// change once made and may be used by any number of cases at once.
type Bank struct {
	channels  []channel
	channelAt map[string]int
	noise     noise
	common    *base // what all hypotheses share; nil: each has its own only

	hyps    []hyp // as in the model, and the unknown one last
	hypAt   map[string]int
	healthy int
	unknown int
	keyAt   map[string]int // by memberKey

	remedies []Remedy // as in the model, then elsewhere, then unknown
	sets     []set    // what mends a hypothesis
	setsWith [][]int  // per remedy, the sets that need it
	remedyAt map[string]int
}

type channel struct {
	Channel
	scale   scale
	slip    float64
	anyway  float64 // share of slips that may show anything
	factors []float64
}

type hyp struct {
	id      string
	prior   float64 // log, normalised
	members []int   // single hypotheses, itself for a single one
	set     int
	upset   float64 // chance that a reading shows anything
	cloud   *cloud
	draws   [][]float64 // as in the model
	share   []float64   // log share of each draw in the prior; nil: all alike
	cars    []int       // base car of each draw; nil: car k
}

// A set is the remedies that mend a hypothesis together.
type set struct {
	remedies []int // quickest first
	minutes  float64
}

func memberKey(ids []string) string {
	s := slices.Clone(ids)
	slices.Sort(s)
	return strings.Join(s, "\x00")
}

// Prepare makes a model ready.
func Prepare(m Model) (*Bank, error) { return prepare(m, nil) }

// Again makes a model ready that differs from the bank's own in its hypotheses
// only: some were added, some have other draws. What has the very same Draws (not
// a copy) need not be worked out again. The bank stays as it is.
func (b *Bank) Again(m Model) (*Bank, error) { return prepare(m, b) }

// prepare takes from the bank before, if there is one, what is still good.
func prepare(m Model, before *Bank) (*Bank, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	b := &Bank{
		channelAt: map[string]int{}, hypAt: map[string]int{}, keyAt: map[string]int{}, remedyAt: map[string]int{},
		noise: newNoise(m.StudentDF),
	}
	for i, c := range m.Channels {
		b.channelAt[c.ID] = i
		b.channels = append(b.channels, c.ready())
	}
	b.remedies = append(slices.Clone(m.Remedies),
		Remedy{ElsewhereID, or(m.ElsewhereMinutes, defaultElsewhere)},
		Remedy{UnknownID, or(m.Unknown.Minutes, defaultUnknown)})
	for i, r := range b.remedies {
		b.remedyAt[r.ID] = i
	}
	if before != nil {
		b.common = before.common
	} else {
		b.common = newBase(b.channels, m.Common)
	}
	for i := range m.Hypotheses {
		h := &m.Hypotheses[i]
		b.hypAt[h.ID] = i
		b.hyps = append(b.hyps, hyp{id: h.ID, prior: h.LogPrior, cloud: before.cloudOf(h), draws: h.Draws, share: shares(h.LogWeights), cars: h.Cars})
		if b.hyps[i].cloud == nil {
			b.hyps[i].cloud = newCloud(b.channels, h.Draws, h.Cars, b.common)
		}
	}
	b.healthy, b.unknown = b.hypAt[m.Healthy], len(b.hyps)
	b.hypAt[UnknownID] = b.unknown
	b.hyps = append(b.hyps, hyp{
		id: UnknownID, prior: m.Unknown.LogPrior, upset: or(m.Unknown.Share, DefaultShare),
		cloud: b.hyps[b.healthy].cloud, share: b.hyps[b.healthy].share, cars: b.hyps[b.healthy].cars,
	})
	b.link(m.Hypotheses)

	priors := make([]float64, len(b.hyps))
	for i, h := range b.hyps {
		priors[i] = h.prior
	}
	sum := logSum(priors)
	for i := range b.hyps {
		b.hyps[i].prior -= sum
	}
	return b, nil
}

// shares brings log weights to a sum of 1.
func shares(logWeights []float64) []float64 {
	if logWeights == nil {
		return nil
	}
	sum := logSum(logWeights)
	out := make([]float64, len(logWeights))
	for k, x := range logWeights {
		out[k] = x - sum
	}
	return out
}

// logShare is the log share of draw k in the hypothesis' prior.
func (h *hyp) logShare(k int) float64 {
	if h.share == nil {
		return -math.Log(float64(h.cloud.n))
	}
	return h.share[k]
}

// cloudOf is the cloud of a hypothesis whose draws are those that the bank has.
func (b *Bank) cloudOf(h *Hypothesis) *cloud {
	if b == nil {
		return nil
	}
	i, ok := b.hypAt[h.ID]
	if !ok || i >= len(b.hyps) || len(b.hyps[i].draws) != len(h.Draws) || &b.hyps[i].draws[0] != &h.Draws[0] {
		return nil
	}
	return b.hyps[i].cloud
}

// link finds members and remedy sets.
func (b *Bank) link(hs []Hypothesis) {
	setAt := map[string]int{}
	for i := range b.hyps {
		h := &b.hyps[i]
		var rs []int
		key := h.id
		switch {
		case i == b.healthy:
			rs, key = []int{b.remedyAt[ElsewhereID]}, ""
		case i == b.unknown:
			rs, h.members = []int{b.remedyAt[UnknownID]}, []int{i}
		case len(hs[i].Members) == 0:
			rs, h.members = []int{b.remedyAt[hs[i].Remedy]}, []int{i}
		default:
			for _, id := range hs[i].Members {
				j := b.hypAt[id]
				h.members = append(h.members, j)
				rs = append(rs, b.remedyAt[hs[j].Remedy])
			}
			key = memberKey(hs[i].Members)
		}
		b.keyAt[key] = i

		slices.SortFunc(rs, func(x, y int) int {
			if b.remedies[x].Minutes != b.remedies[y].Minutes {
				if b.remedies[x].Minutes < b.remedies[y].Minutes {
					return -1
				}
				return 1
			}
			return x - y
		})
		rs = slices.Compact(rs)
		names := make([]string, len(rs))
		total := 0.0
		for j, r := range rs {
			names[j] = b.remedies[r].ID
			total += b.remedies[r].Minutes
		}
		setKey := strings.Join(names, "\x00")
		s, ok := setAt[setKey]
		if !ok {
			s = len(b.sets)
			setAt[setKey] = s
			b.sets = append(b.sets, set{rs, total})
		}
		h.set = s
	}
	b.setsWith = make([][]int, len(b.remedies))
	for s := range b.sets {
		for _, r := range b.sets[s].remedies {
			b.setsWith[r] = append(b.setsWith[r], s)
		}
	}
}

func (c Channel) ready() channel {
	r := channel{Channel: c, slip: or(c.SlipProb, DefaultSlip), anyway: 1}
	if c.YesNo {
		return r
	}
	r.scale = c.scale()
	r.factors = c.SlipFactors
	if r.factors == nil {
		r.factors = DefaultFactors()
	}
	if len(r.factors) > 0 {
		r.anyway = wrongPlace
	}
	return r
}

// or is x, or y where x is 0.
func or(x, y float64) float64 {
	if x == 0 {
		return y
	}
	return x
}

// logSum is ln Σ exp(x), without overflow.
func logSum(x []float64) float64 {
	top := slices.Max(x)
	if math.IsInf(top, 0) {
		return top
	}
	sum := 0.0
	for _, v := range x {
		sum += math.Exp(v - top)
	}
	return top + math.Log(sum)
}
