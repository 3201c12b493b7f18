module legwork

go 1.26
