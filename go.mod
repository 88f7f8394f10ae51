module halfpour

go 1.25.0

require (
	github.com/BurntSushi/toml v1.6.0
	golang.org/x/image v0.44.0
)

require golang.org/x/text v0.40.0 // indirect
