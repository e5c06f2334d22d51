//go:build pagestubs

package render

// With these the package builds while the writers of its pages are made anew, whatever
// has become of the fields that the old ones read.

func (m markup) page(*pageModel)   {}
func (m markup) proof(*proofModel) {}
