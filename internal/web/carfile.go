package web

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"dwellwright/car"
	"dwellwright/internal/workshop"
)

// carFile is a car file that is read again when it changes on disk.
type carFile struct {
	name string // as given to workshop.Open

	mu    sync.Mutex
	read  bool
	stamp stamp
	count int // how many times it was read
	car   *car.Car
	err   error
}

// stamp tells one state of a file from another. The zero stamp is a file that
// isn't there, or one that doesn't change: the demo car and standard input.
type stamp struct {
	at   time.Time
	size int64
}

func (f *carFile) onDisk() stamp {
	if f.name == "demo" || f.name == "-" {
		return stamp{}
	}
	info, err := os.Stat(f.name)
	if err != nil {
		return stamp{}
	}
	return stamp{info.ModTime(), info.Size()}
}

// open gives the car as the file now says it is, how many times the file has
// been read, and what is wrong with it. The car is not to be changed.
func (f *carFile) open(stdin io.Reader) (*car.Car, int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	now := f.onDisk()
	if !f.read || now != f.stamp {
		f.car, f.err = workshop.Open(f.name, stdin)
		f.read, f.stamp = true, now
		f.count++
	}
	return f.car, f.count, f.err
}

// title is the car's name, or its file's while that can't be read.
func (f *carFile) title(c *car.Car) string {
	if c == nil || c.Name == "" {
		return f.name
	}
	return c.Name
}

// edition names the state of a file as it was last read.
func edition(count int) string { return fmt.Sprintf("reading %d", count) }
