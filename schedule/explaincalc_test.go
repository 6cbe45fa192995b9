package schedule_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// calculator does a sum as it is printed: + - x / ( ) ² ln sqrt pi e^.
type calculator struct{ tokens []string }

var tokenOf = regexp.MustCompile(`ln|sqrt|pi|e\^|x|[0-9.]+|[-+/()²]`)

// sumBefore is the sum that stands at the end of a text.
var sumBefore = regexp.MustCompile(`(?:ln|sqrt|pi|e\^|x|[0-9.]+|[-+/()²]|\s)+$`)

// sumIn is the sum at the end of a text; false when there is no sum.
func sumIn(text string) (string, bool) {
	sum := strings.TrimSpace(sumBefore.FindString(text))
	return sum, strings.ContainsAny(sum, "x/+²n")
}

func calculate(sum string) (value float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%q: %v", sum, r)
		}
	}()
	c := &calculator{tokens: tokenOf.FindAllString(sum, -1)}
	value = c.sum()
	if len(c.tokens) > 0 {
		return 0, fmt.Errorf("%q: %q is left over", sum, c.tokens)
	}
	return value, nil
}

func (c *calculator) next() string {
	if len(c.tokens) == 0 {
		return ""
	}
	return c.tokens[0]
}

func (c *calculator) take() string {
	t := c.tokens[0]
	c.tokens = c.tokens[1:]
	return t
}

func (c *calculator) sum() float64 {
	v := c.product()
	for c.next() == "+" || c.next() == "-" {
		if c.take() == "+" {
			v += c.product()
		} else {
			v -= c.product()
		}
	}
	return v
}

func (c *calculator) product() float64 {
	v := c.factor()
	for c.next() == "x" || c.next() == "/" || c.next() == "pi" { // "2 pi" is a product
		switch {
		case c.next() == "pi":
			v *= c.factor()
		case c.take() == "x":
			v *= c.factor()
		default:
			v /= c.factor()
		}
	}
	return v
}

func (c *calculator) factor() float64 {
	v := 0.0
	switch t := c.take(); t {
	case "-":
		return -c.product()
	case "(":
		v = c.sum()
		if c.take() != ")" {
			panic("a bracket is not closed")
		}
	case "ln":
		v = math.Log(c.factor())
	case "sqrt":
		v = math.Sqrt(c.factor())
	case "e^":
		v = math.Exp(c.factor())
	case "pi":
		v = math.Pi
	default:
		f, err := strconv.ParseFloat(t, 64)
		if err != nil {
			panic(err)
		}
		v = f
	}
	if c.next() == "²" {
		c.take()
		v *= v
	}
	return v
}

func TestCalculator(t *testing.T) {
	for _, c := range []struct {
		name, sum string
		value     float64
	}{
		{"product before sum", "1 + 2 x 3", 7},
		{"from the left", "12 / 2 / 3", 2},
		{"brackets and squares", "sqrt(2/3 x (3² + 0² + 3²))", math.Sqrt(12)},
		{"a root without brackets", "(2/sqrt 3) x ln(1/(1 - 0.5))", 2 / math.Sqrt(3) * math.Ln2},
		{"a minus before a product", "1 - e^(-(sqrt 3)/2 x 0.8)", 1 - math.Exp(-math.Sqrt(3)*0.4)},
		{"pi behind a number", "2 pi x 0.5", math.Pi},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := calculate(c.sum)
			require.NoError(t, err)
			require.InDelta(t, c.value, got, 1e-12)
		})
	}
}
