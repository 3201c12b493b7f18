package gallery

import (
	"fmt"
	"strings"
	"time"

	"legwork/quantity"
	"legwork/scene/line"
	"legwork/web"
	"legwork/working"
)

// long is a farm whose owner types names without end, some without a space.
func long(now time.Time) desk {
	word := strings.Repeat("Extraordinarilylongname", 6)
	talk := strings.TrimSpace(strings.Repeat("a remark that never comes to its end, ", 5))
	s := full(now)[0]
	s.job.ID = "long"
	s.job.Name = "The former dairy and cold store behind 104,882 Upper Saint Bartholomew Turnpike, north-east wing, " + word
	s.job.About, s.job.Plant = "near "+word, "240 units, 96.24 kVA"
	s.job.Edition, s.job.Changed = 2020, now.Add(-800*24*time.Hour)

	for n := range 9 {
		s.job.Line.Nodes = append(s.job.Line.Nodes, line.Node{ID: fmt.Sprint("SP", n), Label: "subpanel behind " + word[:30], Sub: talk[:40], Kind: line.Panel, Strands: n, Verdict: working.Stop})
	}

	s.proof.Places = nil
	s.proof.Findings = nil
	s.proof.Said = talk
	for p := range 8 {
		id := fmt.Sprintf("SP%d", p+1)
		s.proof.Places = append(s.proof.Places, web.Place{ID: id, Name: "subpanel " + id + " of the " + strings.Repeat("very ", p%7) + "far barn"})
		for n := range 6 {
			f := simple(fmt.Sprintf("rule-%d", n), fmt.Sprintf("%s/%s%d", id, word[:10*(n+1)], n), "705.12(B)(3)(2) with 310.15(B)(1) and (C)(1)",
				"A rule with a title that goes on: "+talk[:20*(n+1)], quantity.Amps(1234.56*float64(n+1)), quantity.Amps(6543.21), true, "I_longsymbol", talk, word)
			f.Notes = []string{talk}
			f.Missing = []working.Missing{{Path: id + "." + word + "." + f.Rule, What: "fact about " + word, Find: talk, Photo: word}}
			s.proof.Findings = append(s.proof.Findings, f)
		}
	}
	s.job.Tally, s.job.Missing = web.TallyOf(s.proof.Findings), 48

	for range 8 {
		s.survey.Groups[0].Facts = append(s.survey.Groups[0].Facts,
			web.Fact{Means: talk, Value: word, Known: true, From: given(word, 4)}, web.Fact{Means: word, Find: talk})
	}
	s.survey.Source = []byte(strings.Repeat("key: "+word+"\n", 90))
	s.survey.File = word + ".yaml"

	s.plan.Said = talk
	for n := range 14 {
		s.plan.Branches = append(s.plan.Branches, web.Branch{ID: string(rune('A' + n)), Units: 12, Where: talk, Feed: "center-fed", Current: "17.04 A", Breaker: "20 A"})
		s.plan.Circuits = append(s.plan.Circuits, web.Circuit{ID: fmt.Sprint("run", n), Name: word, Conductors: talk, Ground: "250 kcmil", Raceway: "2-1/2 PVC schedule 80",
			Length: "1,234 ft 11 1/2 in", Breaker: "200 A", Governed: []web.Reason{{Finding: "x", Title: word}, {Finding: "y", Title: talk}}})
		s.plan.Choices = append(s.plan.Choices, web.Choice{What: word, Value: talk, By: working.Chosen})
	}
	for n := range 9 {
		s.sheets = append(s.sheets, web.Sheet{Answers: talk, Scene: paper(fmt.Sprintf("E-%d", 700+n), talk[:60])})
	}
	d := desk{s}
	for n := range 80 {
		o := full(now)[0].job
		o.ID, o.Name = fmt.Sprintf("job-%d", n), fmt.Sprintf("%d Invented Lane", 14+2*n)
		o.Changed = now.Add(-time.Duration(n) * 37 * time.Hour)
		d = append(d, specimen{job: o})
	}
	return d
}
