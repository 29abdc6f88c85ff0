package frame

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// Bounds of a frame file, checked before it is parsed: the parser descends with the nesting, and a stack that
// overflows cannot be caught.
const (
	maxFileBytes       = 4 << 20
	maxNesting         = 100
	maxTokens          = 1_000_000 // a token takes some hundred bytes
	maxExpressionToken = 5000
	maxExpressionBytes = 64 << 10
	maxTextBytes       = 4000
	maxNumberBytes     = 40
)

// guardBytes refuses what is not text: a file that is empty, too big, binary or in another encoding.
func guardBytes(name string, src []byte) hcl.Diagnostics {
	at := func(offset int) hcl.Range {
		line := 1 + bytes.Count(src[:offset], []byte{'\n'})
		start := bytes.LastIndexByte(src[:offset], '\n') + 1
		p := hcl.Pos{Line: line, Column: 1 + utf8.RuneCount(src[start:offset]), Byte: offset}
		end := p
		if offset < len(src) {
			end.Byte, end.Column = offset+1, p.Column+1
		}
		return hcl.Range{Filename: name, Start: p, End: end}
	}
	if len(src) > maxFileBytes {
		return hcl.Diagnostics{problem(at(0), "The file is too big",
			"A frame file holds at most 4 MB. Is this the right file?")}
	}
	if len(bytes.TrimSpace(src)) == 0 {
		return hcl.Diagnostics{problem(at(0), "The file is empty",
			"A frame file needs at least one member. \"barwright new\" writes one to start from.")}
	}
	if i := bytes.IndexByte(src, 0); i >= 0 {
		return hcl.Diagnostics{problem(at(i), "This is not a text file",
			"It holds a zero byte. A frame file is plain text in UTF-8.")}
	}
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n == 1 {
			return hcl.Diagnostics{problem(at(i), "This character is not UTF-8",
				"Save the file as plain text in UTF-8.")}
		}
		i += n
	}
	if n := countTokens(src); n > maxTokens {
		return hcl.Diagnostics{problem(at(0), "The file has too many words and signs",
			fmt.Sprintf("A frame file has at most %d. Rows and rings make many bars from few words.", maxTokens))}
	}
	return nil
}

// countTokens estimates how many tokens a text has without making them: runs of letters and digits, and
// signs. Comments and the insides of texts count little.
func countTokens(src []byte) int {
	n, word, quoted := 0, false, false
	for i := 0; i < len(src); i++ {
		c := src[i]
		switch {
		case quoted:
			if c == '\\' {
				i++
			} else if c == '"' || c == '\n' {
				quoted = false
				n++
			} else if c == '{' || c == '}' {
				n++
			}
			continue
		case c == '"':
			quoted = true
			n++
		case c == '#' || c == '/' && i+1 < len(src) && src[i+1] == '/':
			if j := bytes.IndexByte(src[i:], '\n'); j >= 0 {
				i += j
			} else {
				i = len(src)
			}
			n++
		case c == ' ' || c == '\t' || c == '\r':
		case c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' || c >= 0x80:
			if !word {
				n++
			}
			word = true
			continue
		default:
			n++
		}
		word = false
	}
	return n
}

// guardTokens refuses what would upset the parser or is a known slip of the pen.
func guardTokens(name string, src []byte) hcl.Diagnostics {
	tokens, _ := hclsyntax.LexConfig(src, name, hcl.InitialPos) // the parser reports the lexer's errors
	g := guard{}
	for i, t := range tokens {
		g.token(tokens, i, t)
		if g.fatal {
			break
		}
	}
	return g.diags
}

// guard follows the nesting of a token stream.
type guard struct {
	diags    hcl.Diagnostics
	fatal    bool
	depth    int
	inside   bool // in an expression
	begin    int  // depth at which the expression began
	count    int  // tokens of the expression
	first    hcl.Range
	lastSlip int // line of the last slip reported
}

func (g *guard) stop(at hcl.Range, summary, detail string) {
	g.diags = append(g.diags, problem(at, summary, detail))
	g.fatal = true
}

// slip reports at most one slip a line.
func (g *guard) slip(at hcl.Range, summary, detail string) {
	if at.Start.Line != g.lastSlip && len(g.diags) < maxDiagnostics {
		g.diags = append(g.diags, problem(at, summary, detail))
		g.lastSlip = at.Start.Line
	}
}

func (g *guard) token(tokens hclsyntax.Tokens, i int, t hclsyntax.Token) {
	switch t.Type {
	case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen,
		hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl, hclsyntax.TokenOQuote, hclsyntax.TokenOHeredoc:
		g.depth++
		if g.depth > maxNesting {
			g.stop(t.Range, "Brackets are nested too deeply", fmt.Sprintf("At most %d levels are read. Is a closing bracket missing?", maxNesting))
			return
		}
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen,
		hclsyntax.TokenTemplateSeqEnd, hclsyntax.TokenCQuote, hclsyntax.TokenCHeredoc:
		g.depth = max(g.depth-1, 0)
	}
	g.expression(t)
	if !g.fatal {
		g.slips(tokens, i, t)
	}
}

// expression counts the tokens of the expression that the token belongs to. Outside of
// expressions a line counts as one.
func (g *guard) expression(t hclsyntax.Token) {
	switch {
	case t.Type == hclsyntax.TokenEqual && !g.inside:
		g.inside, g.begin, g.count, g.first = true, g.depth, 0, t.Range
	case g.inside && g.depth < g.begin:
		g.inside, g.count = false, 0
	case t.Type == hclsyntax.TokenNewline && (!g.inside || g.depth == g.begin):
		g.inside, g.count = false, 0
	default:
		if g.count == 0 && !g.inside {
			g.first = t.Range
		}
		g.count++
	}
	if g.count > maxExpressionToken || g.count > 0 && t.Range.End.Byte-g.first.Start.Byte > maxExpressionBytes && t.Type != hclsyntax.TokenComment {
		g.stop(g.first, "This expression is too long", fmt.Sprintf("An expression has at most %d words and signs. Split it with let blocks.", maxExpressionToken))
	}
}

func (g *guard) slips(tokens hclsyntax.Tokens, i int, t hclsyntax.Token) {
	text := string(t.Bytes)
	switch t.Type {
	case hclsyntax.TokenNumberLit:
		if len(text) > maxNumberBytes {
			g.slip(t.Range, "This number has too many digits", fmt.Sprintf("A number is written with at most %d characters.", maxNumberBytes))
			return
		}
		if i+1 < len(tokens) && tokens[i+1].Range.Start.Byte == t.Range.End.Byte && tokens[i+1].Type == hclsyntax.TokenIdent {
			unit := string(tokens[i+1].Bytes)
			g.slip(hcl.RangeBetween(t.Range, tokens[i+1].Range), fmt.Sprintf("%s%s is not a number", text, shorten(unit)), unitRemedy(text, unit))
		}
		if i+2 < len(tokens) && g.inside && g.depth == g.begin && tokens[i+1].Type == hclsyntax.TokenComma && tokens[i+2].Type == hclsyntax.TokenNumberLit {
			g.slip(hcl.RangeBetween(t.Range, tokens[i+2].Range), "A comma inside a number",
				fmt.Sprintf("Write a decimal point: %s.%s", text, shorten(string(tokens[i+2].Bytes))))
		}
	case hclsyntax.TokenTemplateControl:
		g.slip(t.Range, "Text with %{ … } is not read", "Write %%{ for the characters themselves, or ${ … } to put a value into a text.")
	case hclsyntax.TokenQuotedLit, hclsyntax.TokenStringLit:
		if len(text) > maxTextBytes {
			g.slip(t.Range, "This text is too long", fmt.Sprintf("A text has at most %d characters.", maxTextBytes))
		}
	}
}

// unitRemedy says what to write in place of a number with a unit.
func unitRemedy(number, unit string) string {
	switch unit {
	case "mm":
		return fmt.Sprintf("All lengths are millimetres; write %s.", number)
	case "cm":
		return fmt.Sprintf("All lengths are millimetres; write %s * 10.", number)
	case "m":
		return fmt.Sprintf("All lengths are millimetres; write %s * 1000.", number)
	case "in", "inch", "inches":
		return fmt.Sprintf("All lengths are millimetres; write inch(%s).", number)
	case "kg", "deg":
		return fmt.Sprintf("Units are not written: masses are kilograms, angles degrees; write %s.", number)
	}
	return "Numbers carry no unit (lengths are millimetres), and a name begins with a letter. A product needs its *."
}

// shorten cuts a piece of the user's text for a message.
func shorten(s string) string {
	r := []rune(s)
	if len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
