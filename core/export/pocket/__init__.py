"""The pocket page: the sheet's content as one file that a phone opens in the field."""
