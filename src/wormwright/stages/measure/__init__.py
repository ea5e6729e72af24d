"""stages/measure"""
