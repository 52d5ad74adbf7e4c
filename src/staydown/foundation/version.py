"""The version, written once; packaging reads it from here without importing anything."""

VERSION = "0.1.0"
