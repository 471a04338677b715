package source

import (
	"context"
	"io"
)

// watched returns in so that reading ends with an error once ctx has ended. It can seek,
// and read at a place, where in can.
func watched(ctx context.Context, in io.Reader) io.Reader {
	w := watchedStream{ctx, in}
	seek, seeks := in.(io.Seeker)
	at, is := in.(io.ReaderAt)
	switch {
	case seeks && is:
		return &watchedFile{watchedSeeker{w, seek}, at}
	case seeks:
		return &watchedSeeker{w, seek}
	}
	return &w
}

type watchedStream struct {
	ctx context.Context
	in  io.Reader
}

func (w *watchedStream) Read(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.in.Read(p)
}

type watchedSeeker struct {
	watchedStream
	io.Seeker
}

type watchedFile struct {
	watchedSeeker
	at io.ReaderAt
}

func (w *watchedFile) ReadAt(p []byte, off int64) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.at.ReadAt(p, off)
}
