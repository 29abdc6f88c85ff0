package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
	"github.com/zclconf/go-cty/cty"
)

// defaultKerf is the width of a saw cut where the file gives none (common practice, no source).
const defaultKerf = 3

// readStocks makes the stocks of the stock blocks.
func (l *loader) readStocks() {
	l.each("stock", func(b *block) {
		p, ok := l.findProfile(b.name, b.nameRange)
		s := &Stock{Origin: b.header}
		var ok1, ok2, ok3, ok4, ok5 bool
		s.Kerf, ok1 = b.notNegative("kerf", defaultKerf)
		s.Trim, ok2 = b.notNegative("trim", 0)
		s.Keep, ok3 = b.notNegative("keep", 0)
		s.Offcuts, ok4 = b.nums("offcut", -1)
		ok5 = l.readStockBars(b, s)
		if !(ok && ok1 && ok2 && ok3 && ok4 && ok5) {
			return
		}
		for _, v := range s.Offcuts {
			if v <= 0 {
				l.fail(b.at("offcut"), fmt.Sprintf("An offcut is %s long", show(v)), "A length is more than 0.")
				return
			}
		}
		if len(s.Bars) == 0 && len(s.Offcuts) == 0 {
			l.fail(b.header, fmt.Sprintf("%s has no bars", b), "Add bar = [{ length = 6000, price = 40 }], or offcut = [ … ].")
			return
		}
		for _, old := range l.f.Stocks {
			if old.Profile == p.Name {
				l.fail(b.header, fmt.Sprintf("A second stock of %s", p.Name), fmt.Sprintf("The first stands on line %d.", old.Origin.Start.Line))
				return
			}
		}
		s.Profile = p.Name
		l.f.Stocks = append(l.f.Stocks, s)
	})
}

// readStockBars reads bar = [{ length = …, price = …, quantity = … }].
func (l *loader) readStockBars(b *block, s *Stock) bool {
	values, at, ok := b.items("bar")
	if !ok {
		return false
	}
	for i, v := range values {
		bar, ok := l.stockBar(v, at[i])
		if !ok {
			return false
		}
		s.Bars = append(s.Bars, bar)
	}
	return true
}

func (l *loader) stockBar(v cty.Value, at hcl.Range) (StockBar, bool) {
	var bar StockBar
	if v.IsNull() || !v.IsKnown() || !v.Type().IsObjectType() {
		l.fail(at, "A bar is written in braces", "Write { length = 6000, price = 41.50 }.")
		return bar, false
	}
	known := []string{"length", "price", "quantity"}
	numbers := map[string]float64{}
	for it := v.ElementIterator(); it.Next(); {
		k, item := it.Element()
		key := k.AsString()
		if indexOf(known, key) < 0 {
			l.fail(at, fmt.Sprintf("A bar has no %q", shorten(key)), didYouMean(key, known))
			return bar, false
		}
		n, ok := l.asNumber(item, at)
		if !ok {
			return bar, false
		}
		numbers[key] = n
	}
	bar.Length, bar.Price = numbers["length"], numbers["price"]
	quantity, counted := numbers["quantity"]
	switch {
	case bar.Length <= 0:
		l.fail(at, "A bar needs a length of more than 0", "Write { length = 6000, price = 41.50 }.")
	case bar.Price < 0:
		l.fail(at, fmt.Sprintf("A bar's price is %s", show(bar.Price)), "It can't be less than 0.")
	case counted && (quantity < 1 || quantity != float64(int(quantity))):
		l.fail(at, fmt.Sprintf("A bar's quantity is %s", show(quantity)), "It is a whole number; leave it out for as many as needed.")
	default:
		bar.Quantity = int(quantity)
		return bar, true
	}
	return bar, false
}
