//go:build goexperiment.simd && amd64

package ride

import (
	"math"
	"simd/archsimd"
	"unsafe"
)

// Four numbers of 64 bits in a register.
type (
	vec4       = archsimd.Float64x4
	num4       = float64
	bits4      = uint64
	row4       = [width4]num4
	positions4 = positionTable
	logs4      = logTable
)

const width4 = 4

func load4(p *row4) vec4                      { return archsimd.LoadFloat64x4(p) }
func all4(x num4) vec4                        { return archsimd.BroadcastFloat64x4(x) }
func clearUpper4()                            { archsimd.ClearAVXUpperBits() }
func (m *Model) positions4(i int) *positions4 { return m.corner[i].position }

func (m *Model) logs4(i int) (damper, inverse *logs4) {
	return m.corner[i].damper, m.corner[i].inverse
}

// two returns two numbers that stand side by side, in the low half of a register.
func two4(p *float64) vec4 {
	var v vec4
	return v.SetLo(archsimd.LoadFloat64x2((*[2]float64)(unsafe.Pointer(p))))
}

func hi4(v vec4, p *float64) vec4 {
	return v.SetHi(archsimd.LoadFloat64x2((*[2]float64)(unsafe.Pointer(p))))
}

// pairs4 takes two numbers from each of four places and returns the first of each and the second of each.
func pairs4(p0, p1, p2, p3 *float64) (first, second vec4) {
	a := hi4(two4(p0), p2).AsInt64x4()
	b := hi4(two4(p1), p3).AsInt64x4()
	return a.InterleaveLoGrouped(b).AsFloat64x4(), a.InterleaveHiGrouped(b).AsFloat64x4()
}

// positionAt4 is positionTable.at for four cars, at u rows from the table's start.
func (c *corner4) positionAt4(b *body4, u vec4) (f, ratio vec4) {
	k := u.Trunc()
	t := u.Sub(k)
	at := &b.row
	u.ConvertToInt32().Store(at)
	r0, r1 := &c.position[0].rows[uint32(at[0])%positionRows], &c.position[1].rows[uint32(at[1])%positionRows]
	r2, r3 := &c.position[2].rows[uint32(at[2])%positionRows], &c.position[3].rows[uint32(at[3])%positionRows]
	c0, c1 := pairs4(&r0.c0, &r1.c0, &r2.c0, &r3.c0)
	c2, c3 := pairs4(&r0.c2, &r1.c2, &r2.c2, &r3.c2)
	at0, by := pairs4(&r0.r0, &r1.r0, &r2.r0, &r3.r0)
	return t.MulAdd(t.MulAdd(t.MulAdd(c3, c2), c1), c0), t.MulAdd(by, at0)
}

// logAt4 is logTable.at for four cars.
func logAt4(t *[4]*logs4, b *body4, v vec4) (f, slope vec4) {
	sign := v.AsInt64x4().And(load4(&b.sign).AsInt64x4())
	size := v.AsInt64x4().Xor(sign).AsFloat64x4().Add(load4(&b.offset)).Min(load4(&b.most))
	floor := size.AsInt64x4().And(load4(&b.octave).AsInt64x4()).AsFloat64x4()
	s := size.Sub(floor).AsInt64x4().Xor(sign).AsFloat64x4()
	// Shifts by a number would put it into a register the old way, which costs a hundred cycles here.
	at := &b.at
	size.AsUint64x4().ShiftRight(load4(&b.shift).AsUint64x4()).Add(sign.AsUint64x4().ShiftRight(load4(&b.side).AsUint64x4())).
		Sub(load4(&b.first).AsUint64x4()).Store(at)
	r0, r1 := &t[0].rows[at[0]%logRows], &t[1].rows[at[1]%logRows]
	r2, r3 := &t[2].rows[at[2]%logRows], &t[3].rows[at[3]%logRows]
	c0, c1 := pairs4(&r0.c0, &r1.c0, &r2.c0, &r3.c0)
	c2, c3 := pairs4(&r0.c2, &r1.c2, &r2.c2, &r3.c2)
	s3 := s.Mul(c3)
	s23 := c2.Add(s3)
	return s.MulAdd(s.MulAdd(s23, c1), c0), s.MulAdd(s23.Add(s23.Add(s3)), c1)
}

// bins4 counts rows of a histogram, in every second step.
//
//go:noinline
func bins4(x []row4, shift, scale *row4, at *[laneSteps][width4]int32) {
	s, k := load4(shift), load4(scale)
	for n := 0; n < len(x) && n < laneSteps; n += 2 {
		load4(&x[n]).Add(s).Mul(k).ConvertToInt32().Store(&at[n])
	}
	clearUpper4()
}

// masks4 are numbers that stand for bits: the mantissa's first three bits with what is above them, and where rows start.
func (b *body4) masks4() {
	for l := range width4 {
		b.octave[l], b.first[l] = math.Float64frombits(^uint64(1<<logShift-1)), math.Float64frombits(logFirst)
		// The sign becomes 128, which is logPerSign.
		b.shift[l], b.side[l] = math.Float64frombits(logShift), math.Float64frombits(56)
	}
}
