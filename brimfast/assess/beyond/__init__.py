"""Past the point where a body begins to move: how far may it slide, does it fall?"""
