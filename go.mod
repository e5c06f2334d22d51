module github.com/stopcard/stopcard

go 1.26.8
