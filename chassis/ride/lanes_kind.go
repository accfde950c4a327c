package ride

// Lanes is how many cars are driven side by side in the registers of the processor.
type Lanes int

// The choices. Every figure of a drive in lanes is within 0.1 % of the same drive alone, which is the default and the
// truth: lanes are for many drives of which a distribution is wanted.
const (
	Alone Lanes = 1 // one car after the other
	Four  Lanes = 4 // four at once, 64 bits a number
	Eight Lanes = 8 // eight at once, 32 bits a number
)
