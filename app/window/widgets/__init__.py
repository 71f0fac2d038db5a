"""Fields, forms and labels that every page is put together from."""
