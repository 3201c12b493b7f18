// Package desk answers the pages from a store: jobs are its documents, and all
// else is worked out from their newest revision.
//
// What is worked out is kept by the revision's hash, so that a page is quick and
// can never show anything but its document. It decides nothing: plan, findings
// and drawings come from their packages, the words between them from here.
package desk
