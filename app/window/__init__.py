"""The Qt workbench. Views read the result and send edits to the document; they compute nothing."""
