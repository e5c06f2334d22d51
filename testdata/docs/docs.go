// Package docs holds the pictures of the README.
package docs

//go:generate go run ./gen
