package desk

import (
	"context"
	"sync"
)

// lane is where studies wait for their turn: so many at a time, and of one person fewer,
// so that nobody's questions stand in front of everybody else's.
type lane struct {
	all  chan struct{}
	each int // of one person

	mu     sync.Mutex
	people map[string]*share
}

// share is what one person has of a lane.
type share struct {
	own   chan struct{}
	users int // that hold or wait for it
}

// newLane makes a lane for so many studies at a time. Where there is room for several,
// one is left to others.
func newLane(most int) *lane {
	return &lane{all: make(chan struct{}, most), each: max(1, most-1), people: map[string]*share{}}
}

// asker is the key of who asks.
type asker struct{}

// For says who asks a question: of one person only some are worked on at a time.
func For(ctx context.Context, who string) context.Context {
	return context.WithValue(ctx, asker{}, who)
}

// turn waits until a study of whoever asks may begin; done lets the next one in.
func (l *lane) turn(ctx context.Context) (done func(), err error) {
	who, _ := ctx.Value(asker{}).(string)
	s := l.shareOf(who)
	leave := func() { l.leave(who, s) }
	select {
	case s.own <- struct{}{}:
	case <-ctx.Done():
		leave()
		return nil, ctx.Err()
	}
	select {
	case l.all <- struct{}{}:
		return func() { <-l.all; <-s.own; leave() }, nil
	case <-ctx.Done():
		<-s.own
		leave()
		return nil, ctx.Err()
	}
}

func (l *lane) shareOf(who string) *share {
	l.mu.Lock()
	defer l.mu.Unlock()
	s := l.people[who]
	if s == nil {
		s = &share{own: make(chan struct{}, l.each)}
		l.people[who] = s
	}
	s.users++
	return s
}

func (l *lane) leave(who string, s *share) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if s.users--; s.users == 0 {
		delete(l.people, who)
	}
}
