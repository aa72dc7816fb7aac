//go:build !race

package evidence

const fewer = 1
