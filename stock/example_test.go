package stock_test

import (
	"context"
	"fmt"
	"strings"

	"barwright/stock"
)

func ExampleSolve() {
	plan, err := stock.Solve(context.Background(), stock.Problem{
		Pieces: []stock.Piece{
			{Length: 1110, Quantity: 4, Mark: "A1"},
			{Length: 840, Quantity: 5, Mark: "A2"},
		},
		Bars: []stock.Bar{
			{Length: 6000, Price: 41.50},
			{Length: 3000, Price: 22.80},
		},
		Kerf: 3,
		Trim: 20,
	}, stock.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range plan.Bars {
		fmt.Printf("%.0f:", b.StockLength)
		for _, c := range b.Cuts {
			fmt.Printf(" %s %.0f", c.Mark, c.Length)
		}
		fmt.Printf(", left %.0f\n", b.Left)
	}
	fmt.Printf("cost %.2f, bound %.2f, optimal %v\n", plan.Cost, plan.LowerBound, plan.Optimal)
	// Output:
	// 6000: A1 1110 A1 1110 A1 1110 A2 840 A2 840 A2 840, left 112
	// 3000: A2 840 A2 840 A1 1110, left 181
	// cost 64.30, bound 64.30, optimal true
}

func ExampleReadPieces() {
	_, err := stock.ReadPieces(strings.NewReader("length;quantity;mark\n1110,5;4;A1\n84o;2;A2\n"), "pieces.csv")
	fmt.Println(err)
	// Output: pieces.csv, row 3, column 1 (length): "84o" is not a number; write digits, with a decimal point or comma
}
