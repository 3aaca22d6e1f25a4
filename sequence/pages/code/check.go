package code

// Lengths in characters, each of five bits.
const (
	tagLength    = 2
	numberLength = 4
	checkLength  = 4
	length       = tagLength + numberLength + checkLength
	bitsEach     = 5
)

// alphabet holds digits and letters without I, L, O and U, which are taken for
// 1, 1, 0 and V. All are characters of a QR code's alphanumeric mode.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

const none = 0xff

// symbols is the alphabet turned about.
var symbols = func() (table [256]byte) {
	for i := range table {
		table[i] = none
	}
	for i := range alphabet {
		table[alphabet[i]] = byte(i)
	}
	return table
}()

// spread appends the lowest count × 5 bits of value, the highest first.
func spread(word []byte, value, count int) []byte {
	for i := count - 1; i >= 0; i-- {
		word = append(word, byte(value>>(i*bitsEach)&(len(alphabet)-1)))
	}
	return word
}

func gathered(word []byte) (value int) {
	for _, symbol := range word {
		value = value<<bitsEach | int(symbol)
	}
	return value
}

// checks returns the four symbols to check a word by. Word and checks together
// are a word of the Reed-Solomon code over the field of 32 elements whose
// generator has the roots a, a², a³, a⁴ (Reed and Solomon, "Polynomial Codes
// over Certain Finite Fields", J. SIAM 8, 1960): any two such words differ in
// five symbols at least, so that no four errors turn one into another. A CRC of
// 20 bits promises this of bits lying close together only.
func checks(word []byte) []byte {
	rest := make([]byte, checkLength)
	for _, symbol := range word {
		lead := symbol ^ rest[0]
		copy(rest, rest[1:])
		rest[checkLength-1] = 0
		for i := range rest {
			rest[i] ^= times(lead, generator[i])
		}
	}
	return rest
}

// The field: powers of a, where a⁵ = a² + 1, and their logarithms.
var powers, logs = func() (powers [31]byte, logs [32]byte) {
	value := 1
	for i := range powers {
		powers[i], logs[value] = byte(value), byte(i)
		if value <<= 1; value > 31 {
			value ^= 0b100101
		}
	}
	return powers, logs
}()

func times(x, y byte) byte {
	if x == 0 || y == 0 {
		return 0
	}
	return powers[(int(logs[x])+int(logs[y]))%len(powers)]
}

// generator is (x-a)(x-a²)(x-a³)(x-a⁴) without its leading 1, the highest
// power first.
var generator = func() [checkLength]byte {
	product := [checkLength + 1]byte{1} // the lowest power last, as far as multiplied
	for root := 1; root <= checkLength; root++ {
		for i := root; i >= 1; i-- {
			product[i] ^= times(product[i-1], powers[root])
		}
	}
	return [checkLength]byte(product[1:])
}()
