package web

import (
	"cmp"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"legwork/working"
)

type proofPage struct {
	Head
	Proof
	Tally      Tally
	Shown      working.Verdict // "" shows all
	Groups     []placeGroup
	NotCovered []working.Finding
	Missing    []missingFact
	Confirm    []working.Finding // by eyes, once it is built
}

// placeGroup is what was found at one place.
type placeGroup struct {
	Place
	Anchor   string // the node of the line that leads here
	Findings []placedFinding
	Tally    Tally
	Hidden   bool // nothing of the verdict asked for
}

// placedFinding is a finding with how the page shows it.
type placedFinding struct {
	working.Finding
	Within string // the rest of the place in words
	Hidden bool
}

// missingFact is a fact to fetch and the findings that wait for it.
type missingFact struct {
	working.Missing
	Waits []working.Finding
}

func (o room) getProof(w http.ResponseWriter, r *http.Request) error {
	ask, err := decodeProof(r.URL.Query())
	if err != nil {
		return err
	}
	j, err := o.jobOf(r)
	if err != nil {
		return err
	}
	proof, err := o.desk.Proof(r.Context(), j.ID, ask.edition)
	if err != nil {
		return err
	}
	p := proofPage{Head: o.head(r, j, "Proof"), Proof: proof, Shown: ask.verdict, Tally: TallyOf(proof.Findings)}
	if len(proof.Line.Nodes) > 0 {
		p.Job.Line = proof.Line
	}
	p.Groups, p.NotCovered = groupByPlace(proof, ask.verdict)
	for _, g := range p.Groups {
		p.Sections = append(p.Sections, g.Anchor)
	}
	for _, f := range proof.Findings {
		if f.Unconfirmed() {
			p.Confirm = append(p.Confirm, f)
		}
	}
	p.Missing = missingFacts(proof.Findings)
	return o.render(w, "proof", p)
}

type proofAsked struct {
	verdict working.Verdict
	edition working.Edition
}

func decodeProof(q url.Values) (proofAsked, error) {
	var a proofAsked
	if v := q.Get("verdict"); v != "" {
		a.verdict = working.Verdict(v)
		if !slices.Contains(verdicts, a.verdict) {
			return a, badRequest{"verdict " + v, "expected stop, ask, look or ok"}
		}
	}
	if e := q.Get("edition"); e != "" {
		year, err := strconv.Atoi(e)
		if err != nil {
			return a, badRequest{"edition " + e, "expected a year such as 2020"}
		}
		a.edition = working.Edition(year)
	}
	return a, nil
}

// groupByPlace sorts findings to their places along the line, places that the
// line does not name after it, and sets those not covered apart.
func groupByPlace(p Proof, shown working.Verdict) (groups []placeGroup, notCovered []working.Finding) {
	for _, place := range p.Places {
		groups = append(groups, placeGroup{Place: place, Tally: Tally{}})
	}
	for _, f := range p.Findings {
		if f.Unconfirmed() {
			continue
		}
		if f.NotCovered {
			notCovered = append(notCovered, f)
			continue
		}
		id, within, _ := strings.Cut(f.Place, "/")
		i := slices.IndexFunc(groups, func(g placeGroup) bool { return g.ID == id })
		if i < 0 {
			i = len(groups)
			groups = append(groups, placeGroup{Place: Place{ID: id, Name: id}, Tally: Tally{}})
		}
		groups[i].Tally[f.Verdict]++
		groups[i].Findings = append(groups[i].Findings,
			placedFinding{f, inPlace(within), shown != "" && f.Verdict != shown})
	}
	groups = slices.DeleteFunc(groups, func(g placeGroup) bool { return len(g.Findings) == 0 })
	for i := range groups {
		g := &groups[i]
		if node := cmp.Or(g.Node, g.ID); i == 0 || node != groups[i-1].Node {
			g.Anchor = node
		}
		g.Hidden = shown != "" && g.Tally[shown] == 0
		slices.SortStableFunc(g.Findings, func(a, b placedFinding) int {
			return slices.Index(verdicts, a.Verdict) - slices.Index(verdicts, b.Verdict)
		})
	}
	return groups, notCovered
}

// inPlace words the rest of a place: "spaces 40, 42" of "MP/40-42". A busbar is
// what one expects of a panel and goes without saying.
func inPlace(within string) string {
	switch {
	case within == "bus":
		return ""
	case within != "" && within[0] >= '0' && within[0] <= '9':
		return "spaces " + strings.ReplaceAll(within, "-", ", ")
	}
	return within
}

func missingFacts(findings []working.Finding) []missingFact {
	var all []missingFact
	for _, f := range findings {
		if f.Unconfirmed() {
			continue
		}
		for _, m := range f.Missing {
			i := slices.IndexFunc(all, func(o missingFact) bool { return o.Path == m.Path })
			if i < 0 {
				i = len(all)
				all = append(all, missingFact{Missing: m})
			}
			all[i].Waits = append(all[i].Waits, f)
		}
	}
	return all
}

// Filter is the address of this page showing one verdict, "" for all.
func (p proofPage) Filter(v working.Verdict) string { return p.query(v, p.Edition) }

// Under is the address of this page under another edition.
func (p proofPage) Under(e working.Edition) string { return p.query(p.Shown, e) }

func (p proofPage) query(v working.Verdict, e working.Edition) string {
	q := url.Values{}
	if v != "" {
		q.Set("verdict", string(v))
	}
	if e != p.Job.Edition && e != 0 {
		q.Set("edition", strconv.Itoa(int(e)))
	}
	if len(q) == 0 {
		return p.JobPath() + "/proof"
	}
	return p.JobPath() + "/proof?" + q.Encode()
}

// Basis names the clause with its edition, or what the rule rests on where that
// is no clause: a nameplate, the target of the project.
func (f placedFinding) Basis() string {
	if strings.HasPrefix(f.Clause, "Chapter ") || f.Clause != "" && f.Clause[0] >= '0' && f.Clause[0] <= '9' {
		return "NFPA 70 (" + strconv.Itoa(int(f.Edition)) + "), " + f.Clause
	}
	return f.Clause
}

// Calculation is the finding's working; package working escapes it.
func (f placedFinding) Calculation() template.HTML { return template.HTML(f.HTML("survey")) }
