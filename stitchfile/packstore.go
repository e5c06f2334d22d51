package stitchfile

import (
	"bytes"
	"io"
	"os"
	"sync"
)

// store is the bytes of a ZIP, at hand only while someone holds it: entries stay
// good after the listing, yet no file stays open and no archive in memory. Each
// hold that succeeds needs a release.
type store struct {
	load func() (r io.ReaderAt, size int64, drop func(), err error)

	mu      sync.Mutex
	holders int
	r       io.ReaderAt
	size    int64
	drop    func()
}

func (s *store) hold() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.holders == 0 {
		r, size, drop, err := s.load()
		if err != nil {
			return err
		}
		s.r, s.size, s.drop = r, size, drop
	}
	s.holders++
	return nil
}

func (s *store) release() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.holders--; s.holders == 0 {
		s.drop()
		s.r, s.drop = nil, nil
	}
}

// ReadAt may be called by holders only.
func (s *store) ReadAt(p []byte, off int64) (int, error) { return s.r.ReadAt(p, off) }

func fileStore(name string) *store {
	return &store{load: func() (io.ReaderAt, int64, func(), error) {
		f, err := os.Open(name)
		if err != nil {
			return nil, 0, nil, err
		}
		info, err := f.Stat()
		if err != nil {
			f.Close()
			return nil, 0, nil, err
		}
		return f, info.Size(), func() { f.Close() }, nil
	}}
}

func byteStore(data []byte) *store {
	return &store{load: func() (io.ReaderAt, int64, func(), error) {
		return bytes.NewReader(data), int64(len(data)), func() {}, nil
	}}
}

// keep holds on to the nested ZIP used last, so that it is not unpacked anew for
// each of its entries, and lets go of the one before.
func (p *Pack) keep(s *store) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.kept == s || s.hold() != nil {
		return
	}
	if p.kept != nil {
		p.kept.release()
	}
	p.kept = s
}
