module undersod

go 1.26
