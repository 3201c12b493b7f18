package quantity

// Size is a conductor size. The zero Size is "none given"; sizes are ordered
// by area, so that a < b means a is the thinner conductor.
type Size int

// Standard conductor sizes of NFPA 70 chapter 9 table 8.
const (
	NoSize Size = iota
	AWG18
	AWG16
	AWG14
	AWG12
	AWG10
	AWG8
	AWG6
	AWG4
	AWG3
	AWG2
	AWG1
	AWG1_0
	AWG2_0
	AWG3_0
	AWG4_0
	KCMil250
	KCMil300
	KCMil350
	KCMil400
	KCMil500
)

// sizeNames are the keys that the tables use: "10", "1/0", "250".
var sizeNames = [...]string{"", "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1",
	"1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500"}

// Key is the size as tables print it: "10", "1/0", "250".
func (s Size) Key() string {
	if s < 0 || int(s) >= len(sizeNames) {
		return ""
	}
	return sizeNames[s]
}

// String prints "10 AWG", "1/0 AWG" or "250 kcmil".
func (s Size) String() string {
	switch {
	case s <= NoSize || int(s) >= len(sizeNames):
		return "no size"
	case s >= KCMil250:
		return s.Key() + " kcmil"
	}
	return s.Key() + " AWG"
}

// Sizes lists all standard sizes from thin to thick.
func Sizes() []Size {
	out := make([]Size, 0, len(sizeNames)-1)
	for s := AWG18; s <= KCMil500; s++ {
		out = append(out, s)
	}
	return out
}

// TradeSize is a raceway trade size; the zero TradeSize is "none given".
type TradeSize int

// Trade sizes of NFPA 70 chapter 9 table 4 that a dwelling meets.
const (
	NoTradeSize TradeSize = iota
	Trade1_2
	Trade3_4
	Trade1
	Trade1_1_4
	Trade1_1_2
	Trade2
)

var tradeNames = [...]string{"", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2"}

// metricDesignators are the metric names of the trade sizes (300.1(C)).
var metricDesignators = [...]int{0, 16, 21, 27, 35, 41, 53}

// Key is the trade size as tables print it: "3/4", "1-1/4".
func (t TradeSize) Key() string {
	if t < 0 || int(t) >= len(tradeNames) {
		return ""
	}
	return tradeNames[t]
}

// String prints "3/4 in".
func (t TradeSize) String() string {
	if t.Key() == "" {
		return "no trade size"
	}
	return t.Key() + " in"
}

// MetricDesignator is the metric trade name: 21 for 3/4 in.
func (t TradeSize) MetricDesignator() int {
	if t.Key() == "" {
		return 0
	}
	return metricDesignators[t]
}

// TradeSizes lists all trade sizes from small to large.
func TradeSizes() []TradeSize {
	out := make([]TradeSize, 0, len(tradeNames)-1)
	for t := Trade1_2; t <= Trade2; t++ {
		out = append(out, t)
	}
	return out
}
