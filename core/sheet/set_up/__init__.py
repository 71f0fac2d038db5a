"""The set-up card: everything needed to set the station down."""
