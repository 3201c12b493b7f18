package field

import "strconv"

// Spoken is a step in the words of one language, for a page.
type Spoken struct {
	Title, Phase                     string
	StaysLive, Wear, Do              []string
	Weather, Second, Wait, Hold, Why string            // "" where the step has none
	Photos                           string            // how many the record wants, "" for none
	Basis                            string            // standard or common practice
	Expect                           map[string]string // each reading with its limits, by id
}

// SpokenPattern is what a wrong picture of readings means.
type SpokenPattern struct {
	Seen   string
	Causes []string // each with the test that tells it from the others
}

// Speak words a step. say turns a Text into a sentence.
func (s Step) Speak(say func(Text) (string, error)) (Spoken, error) {
	pr := &printer{say: say}
	out := Spoken{
		Title: pr.sentence(s.Title), Phase: pr.words(s.Phase.key()),
		StaysLive: pr.each(s.StaysLive), Wear: pr.each(s.Wear), Do: pr.each(s.Do),
		Why: pr.sentence(s.Why), Basis: pr.basis(s), Expect: map[string]string{},
	}
	if s.Weather.Key != "" {
		out.Weather = pr.sentence(s.Weather)
	}
	if s.Second.Key != "" {
		out.Second = pr.sentence(s.Second)
	}
	if w := s.Wait; w != nil {
		out.Wait = pr.words("field.wait_clock", "wait", figure(w.Wait), "low", figure(w.Low), "high", figure(w.High))
	}
	if s.Hold != nil {
		out.Hold = pr.hold(*s.Hold)
	}
	if s.Photos > 0 {
		out.Photos = pr.words("field.photos", "count", strconv.Itoa(s.Photos))
	}
	for _, x := range s.Expect {
		out.Expect[x.ID] = pr.expect(x)
	}
	return out, pr.err
}

// Speak words a pattern.
func (p Pattern) Speak(say func(Text) (string, error)) (SpokenPattern, error) {
	pr := &printer{say: say}
	out := SpokenPattern{Seen: pr.sentence(p.Seen)}
	for _, c := range p.Causes {
		out.Causes = append(out.Causes, pr.cause(c))
	}
	return out, pr.err
}
