package web

import "net/http"

// Room is one room of the gallery: every page over one kind of data.
type Room struct {
	Name string // "long"
	Says string // "names and lists longer than anybody wishes"
	Desk Desk
	Jobs []string // ids whose pages are shown, with faulty ones among them
}

func (g Room) base() string { return "/gallery/" + g.Name }

// Pages lists the addresses of the room's pages.
func (g Room) Pages() []string {
	all := []string{g.base() + "/"}
	for _, id := range g.Jobs {
		for _, s := range Stages {
			if s.Page != "" {
				all = append(all, Head{Base: g.base(), Job: Job{ID: id}}.JobPath()+"/"+s.Page)
			}
		}
	}
	return all
}

type galleryPage struct {
	Head
	Rooms []Room
}

func (o room) getGallery(w http.ResponseWriter, r *http.Request) error {
	p := galleryPage{o.head(r, Job{}, ""), o.Gallery}
	p.Title = "Gallery"
	return o.render(w, "gallery", p)
}
