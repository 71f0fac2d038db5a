"""What is drawn on the sheet: marks, the sky of a pass, the evening on the dial, the station from above."""
