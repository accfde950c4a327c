//go:build goexperiment.simd && amd64

package ride

import (
	"math"
	"simd/archsimd"
	"sync"
)

// Eight numbers of 32 bits in a register.
type (
	vec8  = archsimd.Float32x8
	num8  = float32
	bits8 = uint32
	row8  = [width8]num8
	// positions8 are rows c0 to c3, r0 and dr of a positionTable; logs8 are rows c0 to c3 of a logTable.
	positions8 = [positionRows][2][4]float32
	logs8      = [logRows][4]float32
)

const (
	width8 = 8
	shift8 = 23 - 3
	first8 = (127 - 7) << 3
)

// narrow are a model's tables in 32 bits, made when they are first asked for.
type narrow struct {
	once            sync.Once
	position        [4]*positions8
	damper, inverse [4]*logs8
}

func (m *Model) narrowed() *narrow {
	m.narrow.once.Do(func() {
		n := &m.narrow
		of := func(t *logTable) *logs8 {
			if t == nil {
				return nil
			}
			to := new(logs8)
			for k := range t.rows {
				r := &t.rows[k]
				to[k] = [4]float32{float32(r.c0), float32(r.c1), float32(r.c2), float32(r.c3)}
			}
			return to
		}
		for i := range m.corner {
			c := &m.corner[i]
			for j := range i {
				if o := &m.corner[j]; o.position == c.position {
					n.position[i] = n.position[j]
				}
				if o := &m.corner[j]; o.damper == c.damper && o.inverse == c.inverse {
					n.damper[i], n.inverse[i] = n.damper[j], n.inverse[j]
				}
			}
			if n.position[i] == nil {
				to := new(positions8)
				for k := range c.position.rows {
					r := &c.position.rows[k]
					to[k] = [2][4]float32{{float32(r.c0), float32(r.c1), float32(r.c2), float32(r.c3)}, {float32(r.r0), float32(r.dr)}}
				}
				n.position[i] = to
			}
			if n.damper[i] == nil {
				n.damper[i], n.inverse[i] = of(c.damper), of(c.inverse)
			}
		}
	})
	return &m.narrow
}

func load8(p *row8) vec8 { return archsimd.LoadFloat32x8(p) }
func clearUpper8()       { archsimd.ClearAVXUpperBits() }

func (m *Model) positions8(i int) *positions8 { return m.narrowed().position[i] }

func (m *Model) logs8(i int) (damper, inverse *logs8) {
	n := m.narrowed()
	return n.damper[i], n.inverse[i]
}

// two8 puts four numbers into the low half of a register and four into the high.
func two8(low, high *[4]float32) archsimd.Int32x8 {
	var v vec8
	return v.SetLo(archsimd.LoadFloat32x4(low)).SetHi(archsimd.LoadFloat32x4(high)).AsInt32x8()
}

// positionAt8 is positionTable.at for eight cars, at u rows from the table's start.
func (c *corner8) positionAt8(b *body8, u vec8) (f, ratio vec8) {
	k := u.Trunc()
	t := u.Sub(k)
	at := &b.row
	u.ConvertToInt32().Store(at)
	r0, r1 := &c.position[0][uint32(at[0])%positionRows], &c.position[1][uint32(at[1])%positionRows]
	r2, r3 := &c.position[2][uint32(at[2])%positionRows], &c.position[3][uint32(at[3])%positionRows]
	r4, r5 := &c.position[4][uint32(at[4])%positionRows], &c.position[5][uint32(at[5])%positionRows]
	r6, r7 := &c.position[6][uint32(at[6])%positionRows], &c.position[7][uint32(at[7])%positionRows]
	x0, x1, x2, x3 := two8(&r0[0], &r4[0]), two8(&r1[0], &r5[0]), two8(&r2[0], &r6[0]), two8(&r3[0], &r7[0])
	a, d := x0.InterleaveLoGrouped(x1).AsInt64x4(), x2.InterleaveLoGrouped(x3).AsInt64x4()
	g, h := x0.InterleaveHiGrouped(x1).AsInt64x4(), x2.InterleaveHiGrouped(x3).AsInt64x4()
	c0, c1 := a.InterleaveLoGrouped(d).AsFloat32x8(), a.InterleaveHiGrouped(d).AsFloat32x8()
	c2, c3 := g.InterleaveLoGrouped(h).AsFloat32x8(), g.InterleaveHiGrouped(h).AsFloat32x8()
	a = two8(&r0[1], &r4[1]).InterleaveLoGrouped(two8(&r1[1], &r5[1])).AsInt64x4()
	d = two8(&r2[1], &r6[1]).InterleaveLoGrouped(two8(&r3[1], &r7[1])).AsInt64x4()
	return t.MulAdd(t.MulAdd(t.MulAdd(c3, c2), c1), c0), t.MulAdd(a.InterleaveHiGrouped(d).AsFloat32x8(), a.InterleaveLoGrouped(d).AsFloat32x8())
}

// logAt8 is logTable.at for eight cars.
func logAt8(t *[8]*logs8, b *body8, v vec8) (f, slope vec8) {
	sign := v.AsInt32x8().And(load8(&b.sign).AsInt32x8())
	size := v.AsInt32x8().Xor(sign).AsFloat32x8().Add(load8(&b.offset)).Min(load8(&b.most))
	floor := size.AsInt32x8().And(load8(&b.octave).AsInt32x8()).AsFloat32x8()
	s := size.Sub(floor).AsInt32x8().Xor(sign).AsFloat32x8()
	at := &b.at
	size.AsUint32x8().ShiftRight(load8(&b.shift).AsUint32x8()).Add(sign.AsUint32x8().ShiftRight(load8(&b.side).AsUint32x8())).
		Sub(load8(&b.first).AsUint32x8()).Store(at)
	x0 := two8(&t[0][at[0]%logRows], &t[4][at[4]%logRows])
	x1 := two8(&t[1][at[1]%logRows], &t[5][at[5]%logRows])
	x2 := two8(&t[2][at[2]%logRows], &t[6][at[6]%logRows])
	x3 := two8(&t[3][at[3]%logRows], &t[7][at[7]%logRows])
	a, d := x0.InterleaveLoGrouped(x1).AsInt64x4(), x2.InterleaveLoGrouped(x3).AsInt64x4()
	g, h := x0.InterleaveHiGrouped(x1).AsInt64x4(), x2.InterleaveHiGrouped(x3).AsInt64x4()
	c0, c1 := a.InterleaveLoGrouped(d).AsFloat32x8(), a.InterleaveHiGrouped(d).AsFloat32x8()
	c2, c3 := g.InterleaveLoGrouped(h).AsFloat32x8(), g.InterleaveHiGrouped(h).AsFloat32x8()
	s3 := s.Mul(c3)
	s23 := c2.Add(s3)
	return s.MulAdd(s.MulAdd(s23, c1), c0), s.MulAdd(s23.Add(s23.Add(s3)), c1)
}

// bins8 counts rows of a histogram, in every second step.
//
//go:noinline
func bins8(x []row8, shift, scale *row8, at *[laneSteps][width8]int32) {
	s, k := load8(shift), load8(scale)
	for n := 0; n < len(x) && n < laneSteps; n += 2 {
		load8(&x[n]).Add(s).Mul(k).ConvertToInt32().Store(&at[n])
	}
	clearUpper8()
}

// masks8 are numbers that stand for bits: the mantissa's first three bits with what is above them, and where rows start.
func (b *body8) masks8() {
	for l := range width8 {
		b.octave[l], b.first[l] = math.Float32frombits(^uint32(1<<shift8-1)), math.Float32frombits(first8)
		b.shift[l], b.side[l] = math.Float32frombits(shift8), math.Float32frombits(24)
	}
}
