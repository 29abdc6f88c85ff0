package stock

import (
	"context"
	"time"
)

// stepsPerSecond turns a time limit into a number of steps, one step being
// about one inner-loop operation of the simplex method or the knapsack. It is
// set below what a laptop does, so that the count stops the search before the
// clock does, and the plan is the same on every machine.
const stepsPerSecond = 1e9

// budget counts the work done and says when to stop.
type budget struct {
	used, limit int64
	ctx         context.Context
	deadline    time.Time
	check       int64 // look at the clock when used reaches this
	stopped     bool  // the clock or the caller has ended it for good
}

// newBudget makes the budget of one call of Solve.
func newBudget(ctx context.Context, limit time.Duration) *budget {
	return &budget{
		limit:    int64(limit.Seconds() * stepsPerSecond),
		ctx:      ctx,
		deadline: time.Now().Add(limit),
	}
}

// spend counts n steps.
func (b *budget) spend(n int) { b.used += int64(n) }

// left reports whether work may go on.
func (b *budget) left() bool {
	if b.used >= b.limit || b.stopped {
		return false
	}
	if b.used >= b.check {
		b.check = b.used + 1<<20
		if b.ctx.Err() != nil || time.Now().After(b.deadline) {
			b.stopped = true
			return false
		}
	}
	return true
}

// within runs f with at most n more steps.
func (b *budget) within(n int64, f func()) {
	old := b.limit
	b.limit = min(old, b.used+n)
	f()
	b.limit = old
}
