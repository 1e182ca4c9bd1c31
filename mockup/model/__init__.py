"""The words everything else speaks: frozen data, no behaviour beyond arithmetic on itself."""
