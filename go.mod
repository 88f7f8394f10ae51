module halfpour

go 1.25
