package job

// The closed lists of words that a document may use. Their texts are what is
// written in the file.
type (
	Occupancy      string
	System         string
	FaultKind      string
	Feed           string
	TrunkFeed      string
	Orientation    string
	Environment    string
	ConnectionKind string
	BusMethod      string
	Units          string
	ElectrodeKind  string
)

// Words of the document.
const (
	Dwelling Occupancy = "dwelling"
	Other    Occupancy = "other"

	SplitPhase System = "120/240 V"
	Wye208     System = "208Y/120 V"

	LegToLeg     FaultKind = "leg to leg"
	LegToNeutral FaultKind = "leg to neutral"
	ThreePhase   FaultKind = "three-phase"

	FeedTop    Feed = "top"
	FeedBottom Feed = "bottom"
	FeedCenter Feed = "center"

	EndFed    TrunkFeed = "end"
	CenterFed TrunkFeed = "center"

	Portrait  Orientation = "portrait"
	Landscape Orientation = "landscape"

	OnRoof  Environment = "roof"
	InAttic Environment = "attic"
	OnWall  Environment = "wall"
	Indoors Environment = "indoors"
	Buried  Environment = "buried"

	BackfedBreaker ConnectionKind = "breaker"
	FeedThrough    ConnectionKind = "feed-through"
	SupplySide     ConnectionKind = "supply side"

	SumOfBreakers BusMethod = "sum of breakers"

	Rods            ElectrodeKind = "rods"
	ConcreteEncased ElectrodeKind = "concrete-encased"
	OtherElectrode  ElectrodeKind = "other"

	US Units = "US"
	SI Units = "SI"
)

// words lists each closed list for errors, schema and completion.
var words = map[string][]string{
	"Occupancy":      {string(Dwelling), string(Other)},
	"System":         {string(SplitPhase), string(Wye208)},
	"FaultKind":      {string(LegToLeg), string(LegToNeutral), string(ThreePhase)},
	"Feed":           {string(FeedTop), string(FeedBottom), string(FeedCenter)},
	"TrunkFeed":      {string(EndFed), string(CenterFed)},
	"Orientation":    {string(Portrait), string(Landscape)},
	"Environment":    {string(OnRoof), string(InAttic), string(OnWall), string(Indoors), string(Buried)},
	"ConnectionKind": {string(BackfedBreaker), string(FeedThrough), string(SupplySide)},
	"BusMethod":      {string(SumOfBreakers)},
	"Units":          {string(US), string(SI)},
	"ElectrodeKind":  {string(Rods), string(ConcreteEncased), string(OtherElectrode)},
	"By":             {string(Person), string(Tool)},
}
