// Package field answers what is to be done on site, in which order, and what
// was done: the procedure with its hold points, and the events that phones send.
//
// An event is the only thing a device may send; it is never changed and never
// deleted (a correction is another event). Its hash is taken over its canonical
// form, so that the same event sent twice is seen to be the same.
//
// Sources: RFC 9562 (UUID version 7), RFC 8785 (canonical JSON), RFC 8259
// (JSON), RFC 7493 (I-JSON); Kulkarni, Demirbas, Madappa, Avva, Leone, "Logical
// Physical Clocks", OPODIS 2014, for the hybrid clock.
//
// The procedure follows testdata/reference/energizing.csv; each step names its
// own standard or says common practice. Its sentences are keys of the message
// catalogue, filled and spoken by the faces.
//
// It leaves out where events are kept (package store), what the pages look like
// (package web), and how much sun there is: a branch is judged by its rated
// current, not by the watts of the moment.
package field
