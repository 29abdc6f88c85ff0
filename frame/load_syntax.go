package frame

import (
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// plainWords puts the parser's summaries into a builder's words.
var plainWords = map[string][2]string{
	"Argument or block definition required":      {"This is neither an attribute nor a block", "Write name = value, or a block: member \"rail\" { … }."},
	"Unclosed configuration block":               {"This block is not closed", "Its closing brace } is missing."},
	"Missing newline after argument":             {"Something stands behind the value", "Each attribute stands on a line of its own; a formula needs a sign between two numbers."},
	"Missing newline after block definition":     {"Something stands behind the block", "Start a new line behind the closing brace }."},
	"Invalid expression":                         {"Here a value is missing", "Write a number, a text in quotes or a formula."},
	"Missing expression":                         {"Here a value is missing", "Write a number, a text in quotes or a formula."},
	"Attribute redefined":                        {"This attribute is given twice", "Keep one of the two."},
	"Invalid block definition":                   {"This block has no braces", "A block is written member \"rail\" { … }; an attribute has an equals sign."},
	"Invalid argument name":                      {"An attribute's name stands without quotes", "Write name = value."},
	"Unbalanced parentheses":                     {"A closing parenthesis is missing", ""},
	"Missing item separator":                     {"Between two items a comma is missing", ""},
	"Unterminated tuple constructor expression":  {"This list is not closed", "Its closing bracket ] is missing."},
	"Unterminated object constructor expression": {"This object is not closed", "Its closing brace } is missing."},
	"Unterminated function call":                 {"This call is not closed", "Its closing parenthesis ) is missing."},
	"Invalid single-argument block definition":   {"A block on one line holds one attribute", "Put each attribute on a line of its own."},
	"Invalid multi-line string":                  {"This text has no closing quote", "A text ends on the line on which it begins."},
	"Unterminated template string":               {"This text has no closing quote", "A text ends on the line on which it begins."},
	"Unterminated string literal":                {"This text has no closing quote", "A text ends on the line on which it begins."},
	"Missing key/value separator":                {"Between key and value an equals sign is missing", "Write { mid_x = 120 }."},
	"Missing attribute separator":                {"Between two items a comma is missing", "Write { length = 6000, price = 40 }."},
	"Invalid character":                          {"This character has no place here", ""},
	"Invalid character encoding":                 {"This character is not UTF-8", "Save the file as plain text in UTF-8."},
	"Unsupported operator":                       {"This sign is not part of a formula", ""},
}

// plainSyntax translates the parser's errors.
func plainSyntax(diags hcl.Diagnostics) hcl.Diagnostics {
	var out hcl.Diagnostics
	for _, d := range diags {
		if d.Severity != hcl.DiagError {
			continue
		}
		e := *d
		if p, ok := plainWords[d.Summary]; ok {
			e.Summary = p[0]
			if p[1] != "" {
				e.Detail = p[1]
			}
		}
		e.Detail = strings.TrimSpace(e.Detail)
		out = append(out, &e)
	}
	return out
}

// plainEvaluation translates the evaluator's errors.
func plainEvaluation(d *hcl.Diagnostic) (summary, detail string) {
	switch d.Summary {
	case "Call to unknown function":
		name := ""
		if i := strings.Index(d.Detail, "\""); i >= 0 {
			name, _, _ = strings.Cut(d.Detail[i+1:], "\"")
		}
		return "There is no function \"" + shorten(name) + "\"", didYouMean(name, functionNames())
	case "Not enough function arguments":
		return "The function needs more numbers", d.Detail
	case "Too many function arguments":
		return "The function takes fewer numbers", d.Detail
	case "Operation failed":
		return "This can't be computed", sentence(strings.TrimPrefix(d.Detail, "Error during operation: "))
	case "Error in function call":
		_, reason, _ := strings.Cut(d.Detail, ": ")
		return "This can't be computed", sentence(reason)
	case "Invalid operand":
		return "A formula needs numbers", d.Detail
	case "Iteration over non-iterable value":
		return "A for needs a list", d.Detail
	case "Invalid index":
		return "There is no such item", d.Detail
	}
	return d.Summary, d.Detail
}

// sentence begins a text with a capital letter and ends it with one full stop.
func sentence(s string) string {
	s = strings.TrimRight(s, ". ")
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
